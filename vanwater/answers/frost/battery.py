"""What the pads take from the battery on a cold day, and how long it lasts with all that lives on it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from vanwater.answers.core.number import Number
from vanwater.answers.core.working import stated
from vanwater.answers.frost.cold import Cold
from vanwater.answers.frost.pads import PadFrost
from vanwater.answers.stay.answer import stay
from vanwater.plan.tanks import label_of
from vanwater.quantities import DAILY_ENERGY, SHARE
from vanwater.system.pads import hours_parked, pad_heat, pads_of

__all__ = ["PadsADay"]


@dataclass(frozen=True, eq=False)
class PadsADay:
    """What the pads that it feeds take from the battery; on the road the alternator feeds them.

    Parameters
    ----------
    cold : Cold
        The solved plan, which has a battery and a pad that it feeds.
    pads : mapping of str to PadFrost
        The pads of each tank; a pad on one of which the plan does not say enough counts as always on.
    """

    cold: Cold
    pads: Mapping[str, PadFrost]

    @cached_property
    def energy(self) -> Number:
        """Energy a day at the mean cold, over the hours parked."""
        batch, parked = self.cold.batch, hours_parked(self.cold.batch)
        drawn = {name: pad.drawn["parked"] for name, pad in self.pads.items() if pad.heat.from_battery.any()}
        each = [
            (f"pad of the {label_of(name)}", draw.values * parked * self.pads[name].heat.from_battery)
            for name, draw in drawn.items()
        ]
        for name in pads_of(self.cold.plan):
            if name in self.cold.gaps:
                always = pad_heat(batch, name)
                each.append((f"pad of the {label_of(name)}, always on", always.power[0] * parked * always.from_battery))
        return stated(
            "taken from the battery by the pads a day",
            np.sum([value for _, value in each], axis=0),
            DAILY_ENERGY,
            "The draw of the pads that it feeds, at the mean cold, over the hours parked; on the road the alternator "
            "feeds them.",
            parts=[(label, (value, DAILY_ENERGY)) for label, value in each],
            facts=[("share of the day parked", (parked, SHARE)), *((draw.name, draw) for draw in drawn.values())],
            source="heat balance at the mean temperature of the day",
        ).keyed("battery", "pads_a_day", pairs=self.cold.pairs, least=0.0)

    @cached_property
    def lasts(self) -> Number | None:
        """How long a full battery lasts with all its loads and nothing put back; None where that is not decided."""
        store = next((store for store in stay(self.cold.plan).stores if store.holds == "battery"), None)
        if store is None:
            return None
        return store.days if store.uncharged is None else store.uncharged
