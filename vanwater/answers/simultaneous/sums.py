"""The sums behind what outlets give together, made when they are asked for."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from vanwater.answers.core.key import Key, key_text
from vanwater.answers.core.statement import Amount, Say, say
from vanwater.answers.core.working import Shown, Step, shown, step
from vanwater.answers.simultaneous.pump import PumpPoint, middle, pump_currents
from vanwater.answers.simultaneous.sets import OpenSet
from vanwater.answers.simultaneous.wait import Waiting
from vanwater.physics.pump_power import current_at_rise
from vanwater.quantities import (
    CHARGE,
    CURRENT,
    DURATION,
    FLOW,
    PRESSURE,
    PRESSURE_DIFFERENCE,
    RATIO,
    SECONDS,
    SHARE,
    SPEED,
    TEMPERATURE,
    VOLUME,
)
from vanwater.system.batch import Batch
from vanwater.system.pump import pump_curve
from vanwater.system.taps import LeftTap

__all__ = ["set_numbers"]

NETWORK = "Todini and Pilati (1988), gradient method; Darcy-Weisbach with Colebrook's friction factor"


def set_numbers(sets: tuple[OpenSet, ...]) -> dict[str, Step]:
    """The numbers of the sets by key.

    Parameters
    ----------
    sets : tuple of OpenSet
        The sets.

    Returns
    -------
    dict of str to Step
        "set.SET.OUTLET" with ".flow", ".pressure", ".speed", ".temperature", ".wait" and ".run_off" behind it, for the
        weakest ".rise" and ".gain"; "set.SET.run_off"; "set.SET.PUMP" with ".flow", ".current", ".charge".
    """
    return {key_text(("set", one.name, *key)): number for one in sets for key, number in _all(one)}


def _all(one: OpenSet) -> Iterator[tuple[Key, Step]]:
    for outlet in one.outlets:
        yield (outlet, "flow"), _flow(one, outlet)
        yield (outlet, "pressure"), _pressure(one, outlet)
        yield (outlet, "speed"), _speed(one, outlet)
        if outlet in one.temperature:
            yield (outlet, "temperature"), _temperature(one, one.temperature[outlet])
        if outlet in one.wait:
            yield (outlet, "wait"), _wait(one, one.wait[outlet])
            yield (outlet, "run_off"), _run_off(one, one.wait[outlet])
    if one.run_off is not None:
        yield ("run_off",), _all_run_off(one)
    yield (one.weakest, "rise"), _rise(one)
    if one.remedies:
        yield (one.weakest, "gain"), _gain(one)
    for pump, point in one.pumps.items():
        yield (pump, "flow"), _point(one, point)
        if point.current is not None:
            yield (pump, "current"), _current(one, point)
            if np.isfinite(point.charge):
                yield (pump, "charge"), _charge(one, point)


def _left(one: OpenSet) -> Amount:
    return Amount(one.rows.residual, PRESSURE_DIFFERENCE)


def _flow(one: OpenSet, outlet: str) -> Step:
    facts: list[tuple[str, Shown | str]] = [("alone it gives", one.alone[outlet].flow.shown)]
    if outlet == one.weakest:
        facts += [(f"{hung.name} from low to high", _moved(hung.low, hung.high)) for hung in one.hangs_on]
        facts.append(("measure first", one.measure_first.measure))
    return shown(
        f"flow at the {outlet} with {one.name} open",
        one.flow[outlet],
        "The flows at which pressures and losses balance in the whole network, every row at once; the range "
        "combines what each unsure input moves, one at a time, by root-sum-square.",
        facts=[
            ("pressure before it", one.pressure[outlet]),
            *((f"pressure behind {pump}", Amount(point.discharge, PRESSURE)) for pump, point in one.pumps.items()),
            *facts,
        ],
        residual=_left(one),
        value=one.rows.along(one.rows.solved.flows.outlet(outlet)),
        source=NETWORK,
    )


def _moved(low: float, high: float) -> Say:
    return say("{low} to {high}", low=Amount(low, FLOW), high=Amount(high, FLOW))


def _pressure(one: OpenSet, outlet: str) -> Step:
    return shown(
        f"pressure before the {outlet} with {one.name} open",
        one.pressure[outlet],
        "Gauge pressure in the whole network just before the outlet.",
        facts=[("flow", one.flow[outlet])],
        residual=_left(one),
        value=one.rows.along(one.rows.solved.flows.at(outlet)),
        source=NETWORK,
    )


def _speed(one: OpenSet, outlet: str) -> Step:
    found = one.speed[outlet]
    return shown(
        f"greatest speed on the way to the {outlet} with {one.name} open",
        Amount(found.speed, SPEED),
        "Flow over the area of the bore, in the run in which that is greatest.",
        facts=[
            ("formula", "v = 4 Q / (π D²)"),
            ("in the", found.run),
            *((run, Amount(speed, SPEED, 2)) for run, speed in found.each),
        ],
        source="continuity",
    )


def _temperature(one: OpenSet, tap: LeftTap) -> Step:
    other = "cold" if tap.side == "hot" else "hot"
    needs = (
        say("{loss} in the {side} side", loss=Amount(tap.together, PRESSURE_DIFFERENCE), side=tap.side)
        if tap.together >= 0
        else say("{loss} in the {side} side", loss=Amount(-tap.together, PRESSURE_DIFFERENCE), side=other)
    )
    return shown(
        f"temperature at the {tap.outlet} with {one.name} open, its tap left",
        Amount(tap.comes, TEMPERATURE, 2),
        "The tap is a fixed throttle in one side. The set is solved at several hot shares; where that throttle takes "
        "just the pressure between the two sides, the tap stands as it was left. The other taps are set as wanted.",
        facts=[
            ("formula", "p_hot(x) − p_cold(x) = ±C q²,  T = T_cold + x (T_hot − T_cold)"),
            ("set for", Amount(tap.wanted, TEMPERATURE)),
            ("hot share as set", Amount(tap.share, SHARE)),
            ("hot share that comes", Amount(tap.shifted, SHARE)),
            (
                "as set, the tap takes",
                say("{loss} in the {side} side", loss=Amount(tap.alone, PRESSURE_DIFFERENCE), side=tap.side),
            ),
            ("for the wanted temperature it must be turned until it takes", needs),
            *([("beyond what was solved", "yes")] if tap.beyond else []),
        ],
        source="mixing of two flows; balance of the whole network",
        note="A throttle whose loss goes with the square of its flow; cubic through four of the shares.",
    )


def _wait(one: OpenSet, found: Waiting) -> Step:
    return shown(
        f"wait for hot water at the {found.outlet} with {one.name} open",
        found.wait,
        "Each run from the heater holds its content; the hot flow in it, those of the set together, must push it out "
        "so many times over as its warm wall and the mixing take.",
        parts=[
            (run, Amount(found.factor * content / flow if flow > 0 else np.nan, SECONDS))
            for run, content, flow in found.runs
        ],
        facts=[
            ("formula", "t = Σ f V / q"),
            ("times the content, f", Amount(found.factor, RATIO)),
            *((f"hot flow in the {run}", Amount(flow, FLOW)) for run, _, flow in found.runs),
            ("water that leaves the outlet meanwhile, cold with it", Amount(found.outflow, VOLUME)),
        ],
        source="content over flow; 1.2 to 1.6 times the content by common practice",
    )


def _run_off(one: OpenSet, found: Waiting) -> Step:
    wall = (found.factor - 1.0) * found.content
    return shown(
        f"water run off at the {found.outlet} until it is hot, with {one.name} open",
        found.run_off,
        "What the hot pipe holds, and what its warm wall and the mixing take besides.",
        parts=[
            *((f"content of the {run}", Amount(content, VOLUME)) for run, content, _ in found.runs),
            ("for the wall and the mixing", Amount(wall, VOLUME)),
        ],
        facts=[("formula", "f V"), ("times the content, f", Amount(found.factor, RATIO))],
        source="geometry; 1.2 to 1.6 times the content by common practice",
        note="Runs that outlets of the set share are counted for each of them.",
    )


def _all_run_off(one: OpenSet) -> Step:
    contents = {run: content for found in one.wait.values() for run, content, _ in found.runs}
    factor = next(iter(one.wait.values())).factor
    assert one.run_off is not None
    return shown(
        f"water run off with {one.name} open until all is hot",
        one.run_off,
        "What the hot pipes hold, shared ones once, and what their warm walls and the mixing take besides.",
        parts=[
            *((f"content of the {run}", Amount(content, VOLUME)) for run, content in contents.items()),
            ("for the walls and the mixing", Amount((factor - 1.0) * sum(contents.values()), VOLUME)),
        ],
        source="geometry; 1.2 to 1.6 times the content by common practice",
    )


def _rise(one: OpenSet) -> Step:
    budget = one.budget
    return shown(
        f"pressure for the {budget.outlet} with {one.name} open",
        Amount(budget.rise, PRESSURE_DIFFERENCE),
        "Where the pressure goes, from the pump to the weakest outlet of the set, largest first: the pieces add up to "
        "the pump's rise.",
        parts=[(piece.label, Amount(piece.loss, PRESSURE_DIFFERENCE)) for piece in budget.largest_first],
        residual=Amount(budget.residual + one.rows.residual, PRESSURE_DIFFERENCE),
        source="Bernoulli's equation with losses",
    )


def _gain(one: OpenSet) -> Step:
    best = one.remedies[0]
    return shown(
        f"most that a remedy brings the {one.weakest} with {one.name} open",
        Amount(best.flow, FLOW, 2),
        "Each change is a row of the same solve of the whole network; its gain is the flow there less the plan's own.",
        facts=[
            ("change", best.words),
            *(
                (f"change {place}", say("{words} {gain}", words=gain.words, gain=Amount(gain.flow, FLOW, 2)))
                for place, gain in enumerate(one.remedies[1:], 2)
            ),
        ],
        source="balance of the whole network",
    )


def _point(one: OpenSet, point: PumpPoint) -> Step:
    return shown(
        f"flow of {point.pump} with {one.name} open",
        point.flow,
        "Where the pump's curve at its volts meets what the whole network takes.",
        facts=[
            ("pressure rise", point.rise),
            ("pressure behind it", Amount(point.discharge, PRESSURE)),
            *([] if point.cut_out is None else [("its switch stops it at", Amount(point.cut_out, PRESSURE))]),
            ("so it", "is not decided" if point.cycles is None else "cycles" if point.cycles else "runs steadily"),
        ],
        residual=_left(one),
        value=one.rows.along(one.rows.solved.flows.pump(point.pump)),
        source=NETWORK,
    )


def _current(one: OpenSet, point: PumpPoint) -> Step:
    plan = one.rows.plan
    alone = Batch(plan)
    measured = plan.pumps[point.pump].current
    assert measured is not None and point.current is not None
    drawn = step(
        f"current of {point.pump} at its point",
        current_at_rise,
        rise=point.rise.likely,
        curve=pump_curve(alone, point.pump),
        currents=pump_currents(one.rows, point.pump)[0],
    )
    return shown(
        f"current of {point.pump} with {one.name} open",
        point.current,
        "A straight line of the pressure: half the measured current against no pressure, the measured one half way "
        "between the switch pressures.",
        facts=[
            ("measured", Amount(measured, CURRENT)),
            ("half way between the switch pressures", Amount(middle(plan.pumps[point.pump]), PRESSURE)),
            ("without its range", drawn),
        ],
        source="torque in proportion to current; 0.3 to 0.7 of the current against no pressure by common practice",
    )


def _charge(one: OpenSet, point: PumpPoint) -> Step:
    assert point.current is not None
    return shown(
        f"charge that {point.pump} takes a day with {one.name} open",
        Amount(point.charge, CHARGE, 2),
        "Its current over the time in which it gives the water that the uses at these outlets draw a day.",
        facts=[
            ("formula", "I V / Q"),
            ("current", point.current.amount),
            ("water a day", Amount(point.drawn, VOLUME)),
            ("flow", point.flow.amount),
            ("time that it runs a day", Amount(point.running, DURATION)),
        ],
        source="charge is current times time",
        note="As if all that water were drawn with the whole set open.",
    )
