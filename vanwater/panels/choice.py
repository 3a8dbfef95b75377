"""Which controls belong to a question: those that people turn first, for any plan."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.answers.core.answer import Answer
from vanwater.answers.frost.question import Frost
from vanwater.answers.hot_water.question import HotWater
from vanwater.answers.outlets.question import Supply
from vanwater.answers.pump_starts.question import Accumulator
from vanwater.answers.stay.findings import NEEDED
from vanwater.answers.stay.question import Autonomy
from vanwater.answers.weight.question import Weight
from vanwater.panels.fit import accumulator_for, pad_for
from vanwater.plan.model import Plan
from vanwater.plan.pump import SWITCHED
from vanwater.plan.tables import fittings
from vanwater.plan.tanks import SIDES, Tank
from vanwater.system.exposed import exposed
from vanwater.system.heat import FACES, beside

__all__ = ["IN_SIGHT", "controls_for"]

IN_SIGHT = 7
"""How many controls are in sight; the others are folded."""


def controls_for(plan: Plan, answer: Answer) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Addresses of the controls for an answer.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : Answer
        What it says.

    Returns
    -------
    tuple of two tuples of str
        Those in sight, and those that are folded.
    """
    every = tuple(dict.fromkeys(_every(plan, answer)))
    return every[:IN_SIGHT], every[IN_SIGHT:]


def _every(plan: Plan, answer: Answer) -> Iterator[str]:
    if isinstance(answer, Autonomy):
        return _autonomy(plan, answer)
    if isinstance(answer, Accumulator):
        return _accumulator(plan, answer)
    if isinstance(answer, HotWater):
        return _hot_water(plan, answer)
    if isinstance(answer, Weight):
        return _weight(plan)
    return _frost(plan) if isinstance(answer, Frost) else _supply(plan, answer)


def _weight(plan: Plan) -> Iterator[str]:
    """Places and sizes of the largest tanks, then axles and what rides along."""
    largest = [names[0] for holds in ("fresh", "grey") if (names := _tanks(plan, holds))]
    yield from (f"tanks.{name}.x" for name in largest)
    yield from (_size(plan, name) for name in largest)
    yield from (f"loads.{name}.{key}" for name in plan.loads for key in ("mass", "x"))
    yield from (f"tanks.{name}.{key}" for name in plan.tanks for key in ("x", "y"))
    yield from (f"heaters.{name}.x" for name in plan.heaters)
    if plan.vehicle is not None:
        yield "vehicle.wheelbase"


def _autonomy(plan: Plan, answer: Autonomy) -> Iterator[str]:
    yield from ("household.people", "household.habits")
    largest = {holds: _tanks(plan, holds) for holds in ("fresh", "grey", "urine", "cassette")}
    for tanks in largest.values():
        yield from (_size(plan, name) for name in tanks[:1])
    uses = [use.name for use in answer.uses if use.name not in NEEDED and float(use.fresh.value.ravel()[0]) > 0]
    for use in uses:
        yield f"uses.{use}.a_day"
        yield from (f"uses.{use}.{key}" for key in ("volume", "duration") if plan.at(f"uses.{use}.{key}") is not None)
    for tanks in largest.values():
        yield from (_size(plan, name) for name in tanks[1:])
    yield from (f"uses.{use.name}.a_day" for use in answer.uses if use.name not in uses)
    if plan.battery is not None:
        yield from ("battery.charge", "battery.charging")
        if plan.battery.other_loads is not None:
            yield "battery.other_loads"
    yield from ("household.days_wanted", "household.unsure")
    if plan.heaters and any(use.hot for use in plan.uses.values()):
        yield "household.run_off"


def _tanks(plan: Plan, holds: str) -> list[str]:
    """The tanks that hold something, those that others refill first."""
    return sorted(
        (name for name, tank in plan.tanks.items() if tank.holds == holds),
        key=lambda name: plan.tanks[name].refills is not None,
    )


def _size(plan: Plan, name: str) -> str:
    """What makes a tank larger without touching pick-up and overflow."""
    tank = plan.tanks[name]
    if tank.inside_height is None:
        return f"tanks.{name}.capacity"
    sides = SIDES[tank.shape]
    if "length" in sides and tank.pickup_from_front is None:
        side = "length"
    else:
        side = "width" if "width" in sides and tank.pickup_from_left is None else sides[-1]
    return f"tanks.{name}.{side}"


def _supply(plan: Plan, answer: Answer) -> Iterator[str]:
    if not isinstance(answer, Supply) or not answer.main:
        return
    one = answer.outlets[answer.main]
    at = f"outlets.{one.outlet}"
    yield from _of_pump(plan, one.way.pump, ("volts", "strokes", "holds"))
    yield f"{at}.type" if plan.outlets[one.outlet].type is not None else f"{at}.flow"
    runs = sorted((piece for piece in one.budget if piece.kind == "run"), key=lambda piece: -piece.loss)
    yield from _bore(plan, runs[0].label)
    yield f"runs.{runs[0].label}.length"
    clogs = [run for run in one.way.runs if _clogs(plan, run)]
    yield from (f"runs.{run}.clogged" for run in clogs[:1])
    yield from _of_pump(plan, one.way.pump, ("cut_out",))
    if one.way.mixer:
        held = one.way.mixer in plan.mixers and plan.mixers[one.way.mixer].set is not None
        yield f"mixers.{one.way.mixer}.set" if held else f"{at}.temperature"
    yield from (f"runs.{run}.clogged" for run in clogs[1:])
    for piece in runs[1:]:
        yield from _bore(plan, piece.label)
        yield f"runs.{piece.label}.length"
    yield f"{at}.z"
    yield "site.cold_water"


def _of_pump(plan: Plan, pump: str, fields: tuple[str, ...]) -> Iterator[str]:
    """Those of some fields that a pump of its kind has."""
    if pump:
        yield from (f"pumps.{pump}.{field}" for field in fields if plan.pumps[pump].belongs(field))


def _bore(plan: Plan, run: str) -> Iterator[str]:
    """How wide a run is, by its stock size or in millimetres."""
    planned = plan.runs[run]
    if planned.size is not None or planned.bore is not None:
        yield f"runs.{run}.{'size' if planned.size is not None else 'bore'}"


def _clogs(plan: Plan, run: str) -> bool:
    """Whether a strainer or filter sits in a run."""
    table = fittings()
    return any(
        count and kind not in plan.fittings and table[kind].kind in ("strainer", "filter")
        for kind, count in plan.runs[run].fittings.items()
    )


def _accumulator(plan: Plan, answer: Accumulator) -> Iterator[str]:
    pumps = [one.pump for one in answer.pumps] or list(plan.pumps)
    switched = [pump for pump in pumps if plan.pumps[pump].kind in SWITCHED]
    vessels = [accumulator_for(plan, pump) for pump in switched]
    for vessel in vessels:
        yield from (f"accumulators.{vessel}.{key}" for key in ("volume", "precharge"))
    for pump in pumps:
        yield from _of_pump(plan, pump, ("cut_in", "cut_out", "holds", "strokes"))
        if plan.pumps[pump].curve_volts is not None:
            yield f"pumps.{pump}.volts"
    if pumps:
        yield from ("site.highest", "site.warmest", "site.altitude", "site.coldest")
    yield from (f"accumulators.{vessel}.set_at" for vessel in vessels)
    for pump in pumps:
        yield from _of_pump(plan, pump, ("line_gives",))
    for heater in plan.heaters:
        yield from (f"heaters.{heater}.{key}" for key in ("volume", "set_point", "relief"))
    if plan.heaters:
        yield "site.cold_water"


def _hot_water(plan: Plan, answer: HotWater) -> Iterator[str]:
    for name, one in answer.heaters.items():
        yield from (f"heaters.{name}.{key}" for key in ("volume", "power", "set_point"))
        if one.use:
            yield f"uses.{one.use}.{'duration' if plan.uses[one.use].volume is None else 'volume'}"
            yield f"uses.{one.use}.temperature"
    if not answer.heaters:
        return
    yield "site.cold_water"
    electric = [one for one in answer.heaters.values() if one.electric]
    if plan.battery is not None and electric:
        yield from ("battery.max_current", "battery.charge")
    for one in answer.heaters.values():
        if one.use and plan.uses[one.use].volume is None:
            yield f"uses.{one.use}.flow"
    if plan.inverter is not None and electric:
        yield from (f"inverter.{key}" for key in ("rating", "efficiency", "cable", "idle", "hours_on"))
    yield "household.run_off"
    yield from (f"heaters.{name}.relief" for name in answer.heaters)


def _frost(plan: Plan) -> Iterator[str]:
    yield from ("frost.design_cold", "frost.road_speed", "site.wind")
    cold = [name for name, tank in plan.tanks.items() if tank.inside_height is not None and _cold(tank)]
    for name in sorted(cold, key=lambda name: plan.tanks[name].holds != "fresh"):
        yield from (f"tanks.{name}.foam", f"pads.{pad_for(plan, name)}.power")
    yield from (f"runs.{name}.foam" for name in exposed(plan))
    yield from (f"pads.{name}.{key}" for name in plan.pads for key in ("power", "net_share", "counted"))
    yield from (f"frost.{key}" for key in ("mean_cold", "hold", "start", "room", "under_floor", "ice_share"))
    yield from (f"frost.{key}" for key in ("hours_driving", "nights"))
    if plan.battery is not None:
        yield "battery.charge"


def _cold(tank: Tank) -> bool:
    """Whether a face of a tank lies elsewhere than in the heated room."""
    return any(beside(tank, face) in ("outside", "box") for face in FACES)
