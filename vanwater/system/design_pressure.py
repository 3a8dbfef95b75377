"""The largest pressure and the highest warmth that each run of the supply can come to see."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Literal, TypeAlias

import numpy as np

from vanwater.physics.pump import PumpCurve, shut_off_pressure
from vanwater.physics.pump_kinds import centrifugal_curve
from vanwater.plan.model import Plan
from vanwater.plan.pump import BY_HAND, Pump
from vanwater.plan.supply import Run
from vanwater.plan.tables import fittings
from vanwater.system.pump import rest_pressure

__all__ = ["DesignPressure", "checked", "design_pressures", "driven_pressures", "shut_off", "shut_off_of"]

CHECK_VALVE = "check valve"

Cause: TypeAlias = Literal[
    "pump", "by-pass", "control", "shut taps", "by hand", "switch", "held", "mains", "regulator", "relief", ""
]

STUCK: Mapping[str, Cause] = {
    "diaphragm": "pump",
    "by-pass": "by-pass",
    "speed-controlled": "control",
    "submersible": "shut taps",
    "hand": "by hand",
    "foot": "by hand",
}
"""How the greatest pressure of each kind of pump comes about."""


@dataclass(frozen=True, slots=True)
class DesignPressure:
    """What one run can come to see.

    Parameters
    ----------
    pressure : float or None
        Largest gauge pressure; None where nothing presses or it is not decided [Pa].
    cause : str
        Where it comes from: a pump when its switch sticks, its by-pass carries everything, its control fails or it
        runs against shut taps; its cut-out or what it holds; the mains or their regulator; a relief valve.
    temperature : float
        Warmest water, or air beside cold water that stands still [K].
    heater : str
        The heater whose water comes through it; empty for cold water.
    """

    pressure: float | None
    cause: Cause
    temperature: float
    heater: str


def design_pressures(plan: Plan) -> Mapping[str, DesignPressure]:
    """What each run of the supply side can come to see.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    mapping of str to DesignPressure
        By run. Runs that lead away from an outlet or into a grey or toilet tank are none of the supply.

    Notes
    -----
    Behind a pump the larger of its pressure at no flow, which comes when its switch sticks, and its cut-out; behind
    a mains inlet, and back from there to the next check valve or pump, its regulator's setting, without one the most
    that a campsite's tap gives. Behind a mixing tap the
    cut-out: with the tap shut nothing presses there, with it open the water leaves. Around a heater
    the setting of its relief valve, back to the next check valve or pump and on to the taps; the pump presses its
    own outlet side only. Behind a heater its set point, also behind a mixing tap, which may be turned to hot; behind a
    thermostatic valve what it is set to, since it shuts when the cold water fails.
    """
    return plan.once("design pressures", lambda: _design_pressures(plan, relieved=True))


def driven_pressures(plan: Plan) -> Mapping[str, DesignPressure]:
    """The same from pumps and mains alone: what presses for hours, without what a heater's growing water does.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    mapping of str to DesignPressure
        By run.
    """
    return plan.once("driven pressures", lambda: _design_pressures(plan, relieved=False))


def _design_pressures(plan: Plan, relieved: bool) -> Mapping[str, DesignPressure]:
    leaving: dict[str, list[str]] = {}
    for name, run in plan.runs.items():
        leaving.setdefault(run.start, []).append(name)
    supply = _beyond(plan, leaving, [name for name, tank in plan.tanks.items() if tank.holds == "fresh"])
    supply |= _beyond(plan, leaving, [*plan.pumps, *plan.mains, *plan.heaters])
    mixed = _beyond(plan, leaving, plan.mixers)
    pressed: dict[str, tuple[float, Cause]] = {}

    def press(run: str, pressure: float | None, cause: Cause) -> None:
        if pressure is not None and (run not in pressed or pressure > pressed[run][0]):
            pressed[run] = (pressure, cause)

    warm: dict[str, tuple[float, str]] = {}
    for place, pump in plan.pumps.items():
        stuck, rest = shut_off_of(plan, place), rest_pressure(pump)
        for name in _beyond(plan, leaving, [place]):
            if rest:
                press(name, rest, "held" if pump.kind == "speed-controlled" else "switch")
            if name not in mixed or not rest:
                press(name, stuck, STUCK[pump.kind])
    for place, inlet in plan.mains.items():
        for name in _fed(plan, leaving, place):
            if inlet.regulator is None:
                press(name, inlet.highest, "mains")
            else:
                press(name, min(inlet.regulator, inlet.highest), "regulator")
    for place, heater in plan.heaters.items():
        held = _held(plan, leaving, place)
        for name in _beyond(plan, leaving, [place]):
            warm[name] = max(warm.get(name, (0.0, "")), (held.get(name, heater.set_point), place))
        for name in _shut_in(plan, place) if relieved else ():
            press(name, heater.relief, "relief")
    cold = max(plan.site.cold_water, plan.site.warmest)
    nothing: tuple[float | None, Cause] = (None, "")
    pressures: dict[str, DesignPressure] = {}
    for name in plan.runs:
        if name in supply:
            pressure, cause = pressed.get(name, nothing)
            temperature, by = max(warm.get(name, (cold, "")), (cold, ""))
            pressures[name] = DesignPressure(pressure, cause, temperature, by)
    return pressures


def shut_off(pump: Pump) -> float | None:
    """Greatest pressure that a pump makes, at the volts that reach it and whatever should stop it.

    Parameters
    ----------
    pump : Pump
        The pump.

    Returns
    -------
    float or None
        Gauge pressure, its inlet at the air's pressure [Pa]: without flow, at full speed; the stall of one worked by
        hand. None where that is not decided.
    """
    if pump.kind in BY_HAND:
        return pump.stall
    if pump.curve is None or pump.curve_volts is None:
        return None
    points = np.array(pump.curve)
    volts = pump.curve_volts if pump.volts is None else pump.volts
    if pump.kind == "submersible":
        curve = centrifugal_curve(points[:, 0], points[:, 1], volts, pump.curve_volts)
    else:
        curve = PumpCurve(points[:, 0], points[:, 1], volts, pump.curve_volts)
    return max(float(shut_off_pressure(curve)), 0.0)


def shut_off_of(plan: Plan, pump: str) -> float | None:
    """:func:`shut_off` of a pump of a plan, worked out once.

    Parameters
    ----------
    plan : Plan
        The plan.
    pump : str
        The pump.

    Returns
    -------
    float or None
        Gauge pressure [Pa].
    """
    return plan.once(f"shut-off of {pump}", lambda: shut_off(plan.pumps[pump]))


def _open(plan: Plan, place: str) -> bool:
    """Whether water under pressure goes on through a place."""
    return place not in plan.outlets and place not in plan.tanks


def _beyond(plan: Plan, leaving: Mapping[str, list[str]], starts: Iterable[str]) -> set[str]:
    """Runs that lead away from some places, as far as the outlets."""
    reached: set[str] = set()
    waiting = list(starts)
    while waiting:
        for name in leaving.get(waiting.pop(), ()):
            end = plan.runs[name].end
            if name in reached or (end in plan.tanks and plan.tanks[end].holds != "fresh"):
                continue
            reached.add(name)
            if _open(plan, end):
                waiting.append(end)
    return reached


def _held(plan: Plan, leaving: Mapping[str, list[str]], heater: str) -> dict[str, float]:
    """Runs that a heater's water comes to through a thermostatic valve alone, and what that is set to [K]."""
    valves = {
        name: mixer.set for name, mixer in plan.mixers.items() if mixer.kind == "thermostatic" and mixer.set is not None
    }
    onward = {place: runs for place, runs in leaving.items() if place not in valves}
    bare = _beyond(plan, onward, [heater])
    held: dict[str, float] = {}
    for valve, warmth in valves.items():
        for name in _beyond(plan, leaving, [valve]) - bare:
            held[name] = max(held.get(name, 0.0), warmth)
    return held


def _fed(plan: Plan, leaving: Mapping[str, list[str]], inlet: str) -> set[str]:
    """Runs that a mains inlet presses: those that lead away from it, and back against the flow up to what closes."""
    fed: set[str] = set()
    waiting = [inlet]
    while waiting:
        place = waiting.pop()
        new = _beyond(plan, leaving, [place])
        ends = {plan.runs[name].end for name in new if _open(plan, plan.runs[name].end)}
        places = {place} | ends.difference(plan.mixers)
        fed |= new
        for name, run in plan.runs.items():
            if run.end in places and name not in fed:
                fed.add(name)
                stops = any(run.start in closed for closed in (plan.pumps, plan.tanks, plan.mains, plan.mixers))
                if not stops and not checked(plan, run):
                    waiting.append(run.start)
    return fed


def _shut_in(plan: Plan, heater: str) -> set[str]:
    """Runs whose water cannot leave while the taps are shut and the heater's water grows; none where a tank is open."""
    enclosed: set[str] = set()
    seen = {heater}
    waiting = [heater]
    while waiting:
        place = waiting.pop()
        for name, run in plan.runs.items():
            if place not in (run.start, run.end) or name in enclosed:
                continue
            enclosed.add(name)
            other = run.end if place == run.start else run.start
            within = other in plan.pumps and plan.pumps[other].kind == "submersible"  # it has no valve of its own
            closed = not within and any(other in places for places in (plan.pumps, plan.mains, plan.mixers))
            shut = closed or (place == run.end and checked(plan, run))
            if (within or other in plan.tanks) and not shut and not checked(plan, run):
                return set()
            if other not in seen and not shut and _open(plan, other):
                seen.add(other)
                waiting.append(other)
    return enclosed


def checked(plan: Plan, run: Run) -> bool:
    """Whether a run has a check valve of the table among its fittings."""
    table = fittings()
    return any(
        count and kind not in plan.fittings and table[kind].kind == CHECK_VALVE for kind, count in run.fittings.items()
    )
