"""One tank in the cold: what it loses face by face, how long it lasts without heat, with their ranges."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

import numpy as np

from vanwater.answers.core.spread import Spread, spread
from vanwater.answers.core.statement import Range
from vanwater.answers.frost.cold import DRIVING, FILLS, PARKED, Cold, TankCold, label_of, lasting_range
from vanwater.answers.frost.pads import PadFrost, PadRows, pad_frost
from vanwater.physics import cooling, frost
from vanwater.physics.water import FREEZING_POINT
from vanwater.plan.winter import BESIDE
from vanwater.quantities import POWER, Array
from vanwater.system.heat import FACES, Side

__all__ = ["FaceLoss", "TankFrost", "tank_frost"]


@dataclass(frozen=True, slots=True)
class FaceLoss:
    """Faces of a tank that are alike.

    Parameters
    ----------
    names : tuple of str
        Which ones: "bottom", "left" ...
    beside : str
        What lies beside them.
    foam : float
        Insulation on them [m].
    parked, driving : float
        Heat that they lose at the temperature held; negative when they are fed [W].
    """

    names: tuple[Side, ...]
    beside: str
    foam: float
    parked: float
    driving: float


@dataclass(frozen=True, slots=True, eq=False)
class TankFrost:
    """One tank in the cold.

    Parameters
    ----------
    tank, label, holds : str
        Its name, what it is called in a sentence, and what it holds.
    faces : tuple of FaceLoss
        Its faces, those alike together.
    parked, driving : Range
        Heat that it loses at the temperature held.
    rest : float
        Temperature at which it comes to rest without heat, parked [K].
    hours, hours_driving : mapping of str to Range
        Time until 0 °C without heat when "full", "half" and at its last "tenth", parked and driving.
    ice : Range
        Time until its stated share is ice, full and parked.
    rows : mapping of str to array
        The parked hours along the rows, by how full it is [s].
    pad : PadFrost or None
        Its pads.
    """

    tank: str
    label: str
    holds: str
    faces: tuple[FaceLoss, ...]
    parked: Range
    driving: Range
    rest: float
    hours: Mapping[str, Range]
    hours_driving: Mapping[str, Range]
    ice: Range
    rows: Mapping[str, Array]
    pad: PadFrost | None


def tank_frost(cold: Cold, name: str, padded: PadRows | None) -> TankFrost:
    """A tank in the cold.

    Parameters
    ----------
    cold : Cold
        The solved plan.
    name : str
        A tank of it.
    padded : PadRows or None
        Its pads along the rows.

    Returns
    -------
    TankFrost
        Numbers with their ranges.
    """
    one, label = cold.tanks[name], label_of(name)
    losses = one.through[:2] * (cold.hold - one.rest[:2])
    hours = cooling.time_until(cold.start, FREEZING_POINT, one.rest[:2, None], one.through[:2, None], one.mass)
    share = cold.batch.number("frost.ice_share")
    iced = hours[PARKED, 0] + frost.freezing_time(share, one.mass[0], one.through[PARKED], one.rest[PARKED])
    results = [*losses, *hours[PARKED], *hours[DRIVING], iced, *(padded.results if padded is not None else ())]
    ranges = spread(np.array(results).T, cold.pairs)
    pad = None
    if padded is not None:
        after = Spread(*(end[9:] for end in (ranges.low, ranges.likely, ranges.high)))
        pad = pad_frost(cold, one, padded, after)
    return TankFrost(
        name,
        label,
        cold.plan.tanks[name].holds,
        tuple(_faces(cold, one)),
        ranges.at(0).range(POWER),
        ranges.at(1).range(POWER),
        float(one.rest[PARKED, 0]),
        {fill: _lasting(ranges, 2 + place) for place, fill in enumerate(FILLS)},
        {fill: _lasting(ranges, 5 + place) for place, fill in enumerate(FILLS)},
        _lasting(ranges, 8),
        dict(zip(FILLS, hours[PARKED], strict=True)),
        pad,
    )


def _lasting(ranges: Spread, place: int) -> Range:
    return lasting_range(*(float(end[place]) for end in (ranges.low, ranges.likely, ranges.high)))


def _faces(cold: Cold, one: TankCold) -> Iterator[FaceLoss]:
    """The faces of the plan itself; those with the same neighbour, foam and facing together."""
    flows = one.heat.faces.area[0] * one.transmittance[:2, 0] * (cold.hold[0] - one.beside[PARKED, 0])
    foam = np.asarray(one.heat.layers.foam)[0]
    alike: dict[tuple[int, float, str], list[int]] = {}
    for place in range(len(FACES)):
        key = (int(one.heat.codes[0, place]), float(foam[place]), one.heat.faces.facing[place].value)
        alike.setdefault(key, []).append(place)
    for (code, thick, _), places in alike.items():
        parked, driving = (float(flow[places].sum()) for flow in flows)
        yield FaceLoss(tuple(FACES[place] for place in places), BESIDE[code], thick, parked, driving)
