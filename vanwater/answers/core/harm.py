"""The order of harm: what a fault or a danger does to people, to the van and to the trip, the gravest first."""

from __future__ import annotations

import re
from collections.abc import Mapping
from enum import IntEnum
from functools import lru_cache

__all__ = ["HARM", "Harm", "harm_of", "place_of"]


class Harm(IntEnum):
    """What can come of something, the gravest first."""

    LIFE = 1
    INJURY = 2
    DAMAGE = 3
    DOES_NOT_WORK = 4
    STAY_ENDS = 5
    DUTY = 6
    COMFORT = 7
    CARE = 8

    @property
    def word(self) -> str:
        """It in words."""
        return self.name.lower().replace("_", " ")


_KINDS: Mapping[Harm, tuple[str, ...]] = {
    Harm.LIFE: (
        "hot_water.*.empty",  # an element that can run dry
        "frost.*.protected",  # a pad under an empty tank
        "hot_water.*.relief",  # a closed heater
        "hot_water.*.current",  # a cable or fuse beyond its current
        "power.*.carries",  # a cable that no fuse guards sets fire
        "power.*.fuse",
        "weight.*",  # an axle or the van beyond what it may carry
        "weight.lifted",
        "measured.axle.*.above",
        "measured.van.mass.*.above",
        "measured.heaters.*.relief.above",
    ),
    Harm.INJURY: (
        "hot_water.*.boils",
        "hot_water.*.scald",
        "outlets.*.scald",
        "outlets.*.least_flow",  # below it a thermostatic valve holds nothing
        "mains.*.back-flow",
        "stay.*.urine",
        "hot_water.*.hygiene",
        "hot_water.cold.warm",
        "ratings.material.*",  # not made for drinking water
        "sanitising.*.dose",
        "sanitising.*.flush",
        "measured.heaters.*.set_point.above",
        "measured.mixers.*.set.above",
        "measured.limit.*.below",
    ),
    Harm.DAMAGE: (
        "ratings.joint.*.*",
        "ratings.joints",
        "ratings.pipes",
        "ratings.pieces",
        "ratings.*.*",
        "mains.*.regulator",
        "outlets.joined.*",
        "pump_starts.*.stops",
        "outlets.*.volts",
        "power.battery.charging",
        "power.battery.frozen",
        "frost.drained.*",  # what draining leaves behind bursts
        "pump_starts.*.hammer",
        "weight.sides",
        "mains.*.*.starts",
        "mains.*.*",  # what keeps the mains out of pump and tank
        "measured.mains.*.regulator.above",
        "measured.pumps.*.cut_out.above",
        "measured.*.current.above",  # in a cable that was chosen for less
        "measured.handover.*.pressure_lost.above",
    ),
    Harm.DOES_NOT_WORK: (
        "outlets.none",
        "outlets.*.way",
        "outlets.*.dry",
        "outlets.*.priming",
        "outlets.*.npsh",
        "outlets.*.pump",
        "outlets.*.burner",  # below its least flow a heater stays cold
        "hot_water.*.inverter",
        "hot_water.*.power",
        "power.*.fed",  # a source that never works
        "power.*.cut_out",  # an inverter that switches off
        "power.*.*",  # a load that its inverter or socket cannot feed
        "power.*.together",
        "power.*.start",
        "power.*.blows",  # a fuse that opens under its load
        "power.*.butane",
        "pump_starts.*.line",
        "pump_starts.*.switch",
        "ratings.joints.open",
        "measured.handover.*.priming.above",
        "measured.*.volts.below",
    ),
    Harm.STAY_ENDS: (
        "stay.days",
        "stay.*",
        "frost.nights",
        "frost.cold",
        "frost.*.freezes",
        "frost.*.pad",
        "frost.*.driving",
        "frost.*.hours",
        "frost.*.sides",
        "frost.*.beside",
        "frost.*.bore",
        "frost.heating_off",  # a what-if: what blocks indoors once the heating is off
        "frost.*.heating_off",
        "frost.drained.heights",
        "frost.warm",
        "hot_water.*.enough",
        "hot_water.*.warms.*",
        "stay.reach.*",
        "power.*.fuel",
        "measured.tank.*.usable.below",
        "measured.heater.*.charge.likely.below",
        "measured.pads.*.power.below",
    ),
    Harm.DUTY: ("weight.limits", "weight.wheelbase", "weight.places"),
    Harm.COMFORT: (
        "outlets.*.flow",
        "outlets.*.warm",
        "outlets.*.switch",
        "outlets.*.set",
        "outlets.*.hot_excess",
        "outlets.*.valve_pressure",
        "simultaneous.*.pump.*",
        "simultaneous.*.*.warm",
        "simultaneous.*.speed",
        "simultaneous.*.hangs",
        "simultaneous.*.*",
        "hot_water.*.day",
        "hot_water.*.at_once.*",
        "hot_water.*.run_back",
        "hot_water.*.start",
        "hot_water.*.valve",
        "hot_water.*.ring",
        "hot_water.*.use",
        "power.*.loss",
        "power.*.thin_air",
        "power.*.also",
        "power.*.unlike",
        "power.*.pump",
        "power.*.sun",
        "power.battery.rate",
        "pump_starts.*.precharge",
        "pump_starts.*.beside.*",
        "pump_starts.*.chatter",
        "pump_starts.*.size",
        "pump_starts.*.by-pass",
        "pump_starts.*.night",
        "pump_starts.*.hand_wash",
        "pump_starts.*.none",
        "pump_starts.pump",
        "measured.outlet.*.flow.below",
        "measured.heater.*.recovery.above",
        "measured.heaters.*.set_point.below",
        "measured.accumulator.*.drawdown.below",
        "measured.pump.*.precharge_setting.*",
        "measured.pumps.*.cut_*.*",
    ),
    Harm.CARE: (
        "stay.person",
        "power.inverter.idle",
        "pump_starts.*.expansion",
        "sanitising.*.lines",
        "measured.*",  # what does no harm, and yet the plan is not the van
        "parts.lengths",
        "parts.prices",
    ),
}

HARM: Mapping[str, Harm] = {kind: harm for harm, kinds in _KINDS.items() for kind in kinds}
"""What each kind of finding is about, the gravest first: its key, with a star for each name of the plan."""

_ORDER = tuple(
    (re.compile(re.escape(kind).replace(r"\*", ".+"), re.DOTALL), place, harm)
    for place, (kind, harm) in sorted(enumerate(HARM.items()), key=lambda known: -len(known[1][0]))
)
"""The most particular kind first, so that a name of the plan decides nothing."""


@lru_cache(maxsize=4096)
def _told(key: str) -> tuple[int, Harm]:
    match = next(((place, harm) for kind, place, harm in _ORDER if kind.fullmatch(key)), None)
    return match or (len(_ORDER), Harm.DOES_NOT_WORK)


def harm_of(key: str) -> Harm:
    """What a finding is about.

    Parameters
    ----------
    key : str
        Its key, such as "hot_water.heater.scald".

    Returns
    -------
    Harm
        By the kind of the key; what does not work where the table has no such kind.
    """
    return _told(key)[1]


def place_of(key: str) -> int:
    """Where a kind of finding stands in the table, the gravest first; behind all of them where it has none.

    Parameters
    ----------
    key : str
        The finding's key.

    Returns
    -------
    int
        From 0.
    """
    return _told(key)[0]
