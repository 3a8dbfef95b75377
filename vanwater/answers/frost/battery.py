"""What the pads take from the battery on a cold day, and the nights it lasts on them alone."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from vanwater.answers.core.number import Number
from vanwater.answers.core.working import by, stated, step
from vanwater.answers.frost.cold import Cold
from vanwater.answers.frost.pads import PadFrost
from vanwater.physics import battery
from vanwater.plan.tanks import label_of
from vanwater.quantities import DAILY_ENERGY, DAY, SHARE
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
    def usable(self) -> Number:
        """Energy that a full battery may give."""
        batch = self.cold.batch
        return step(
            "usable energy of the battery",
            battery.usable_energy,
            voltage=batch.number("battery.volts"),
            charge=batch.number("battery.charge"),
            usable_share=batch.number("battery.usable"),
        ).keyed("battery", "usable", pairs=self.cold.pairs)

    @cached_property
    def nights(self) -> Number:
        """Days and nights that a full battery lasts on the pads alone."""
        return step(
            "nights of the battery on the pads alone", battery.battery_days, usable=self.usable, daily_net=self.energy
        ).keyed("battery", "nights", "pads", pairs=self.cold.pairs, least=0.0, digits=2)

    @cached_property
    def share(self) -> Number:
        """Part of the usable battery that a day takes."""
        energy, usable = self.energy.values * DAY, self.usable
        return by(
            "share of the battery that the pads take a day",
            energy / usable.values,
            SHARE,
            battery.battery_share,
            energy=energy,
            usable=usable,
        ).keyed("battery", "share_a_day", "pads", pairs=self.cold.pairs, least=0.0, digits=2)
