"""What people turn first where frost is asked: cold, foam, pads; a pad that the plan lacks."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.answers.core.question import Fits
from vanwater.answers.core.sizes import example_of, free_name
from vanwater.answers.frost.answer import Frost
from vanwater.plan.model import Plan
from vanwater.plan.tanks import Tank
from vanwater.system.exposed import exposed
from vanwater.system.heat import FACES, beside

__all__ = ["controls", "fits", "pad_for"]


def controls(plan: Plan, answer: Frost) -> Iterator[str]:  # noqa: ARG001 - as every question's
    """Addresses that people turn first where frost is asked."""
    yield "frost.design_cold"
    if plan.water.drained:
        yield from (f"runs.{name}.lowest" for name, run in plan.runs.items() if run.lowest is not None)
        return
    yield from ("frost.road_speed", "site.wind")
    cold = [name for name, tank in plan.tanks.items() if tank.inside_height is not None and _cold(tank)]
    for name in sorted(cold, key=lambda name: plan.tanks[name].holds != "fresh"):
        yield from (f"tanks.{name}.foam", f"pads.{pad_for(plan, name)}.power")
    yield from (f"runs.{name}.foam" for name in exposed(plan))
    yield from (f"pads.{name}.{key}" for name in plan.pads for key in ("power", "net_share", "fed"))
    yield from (f"frost.{key}" for key in ("mean_cold", "hold", "start", "room", "under_floor", "ice_share"))
    yield from ("body.time_constant", "body.size")
    yield from ("day.driving", "frost.nights")
    if plan.battery is not None:
        yield "battery.charge"


def _cold(tank: Tank) -> bool:
    """Whether a face of a tank lies elsewhere than in the heated room."""
    return any(beside(tank, face) in ("outside", "box") for face in FACES)


def fits(plan: Plan, answer: Frost) -> Fits:  # noqa: ARG001 - as every question's
    """What a part that is not there yet would be at first, so that one control is enough to fit it."""
    wet = () if plan.water.drained else plan.tanks
    bare = (name for name in wet if not any(pad.tank == name for pad in plan.pads.values()))
    return {f"pads.{pad_for(plan, name)}": {"tank": name, "power": example_of(plan, "pads.pad.power")} for name in bare}


def pad_for(plan: Plan, tank: str) -> str:
    """The first heating pad on a tank, else what one would be called there."""
    on_it = (name for name, pad in plan.pads.items() if pad.tank == tank)
    return next(on_it, "") or free_name(plan, f"{tank} pad"[:36], ("pads",))
