"""The way to each outlet piece by piece: bore, length, flow, speed, Reynolds number, friction factor, K and loss."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial

import numpy as np

from vanwater.answers.core.cell import Cell
from vanwater.answers.core.docstring import documented
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import Say, in_either, say
from vanwater.answers.core.table import Column, Table
from vanwater.answers.core.working import stated, step
from vanwater.answers.outlets.answer import Outlets
from vanwater.answers.outlets.cycling import LOSSES
from vanwater.answers.outlets.outlet import OutletSupply
from vanwater.physics import water
from vanwater.physics.fittings import k_loss
from vanwater.physics.friction import (
    LAMINAR_LIMIT,
    TURBULENT_LIMIT,
    friction_factor,
    friction_loss,
    relative_roughness,
    reynolds,
    velocity,
)
from vanwater.plan.model import Plan
from vanwater.plan.problems import joined
from vanwater.plan.supply import Fitting
from vanwater.plan.tables import FittingRow, fittings
from vanwater.quantities import (
    BORE,
    DENSITY,
    FLOW,
    LENGTH,
    PRESSURE_DIFFERENCE,
    RATIO,
    ROUGHNESS,
    SPEED,
    VISCOSITY,
    Quantity,
)
from vanwater.system.numbering import numbering
from vanwater.system.supply import small_loss

__all__ = ["by_piece", "way_loss"]

_COLUMNS = (
    Column("piece"),
    Column("bore", BORE),
    Column("length", LENGTH),
    Column("flow", FLOW),
    Column("speed", SPEED),
    Column("Re", RATIO),
    Column("it flows"),
    Column("f", RATIO),
    Column("K", RATIO),
    Column("loss", PRESSURE_DIFFERENCE),
)
_NO_K = 1e-9
"""Of a run whose fittings are all told: what rounding leaves."""


def by_piece(answer: Outlets) -> Iterator[Table]:
    """A table for the way to each outlet that water reaches, in the order of the water.

    Parameters
    ----------
    answer : Outlets
        The solved outlets.

    Yields
    ------
    Table
        A row for each run and below it one for each of its fittings; the losses that count add up to the way's.
    """
    for name, supply in answer.outlets.items():
        if supply.reaches:
            yield Table(
                f"pieces {name}",
                say("The way to the {outlet}, piece by piece, with it open alone.", outlet=name),
                _COLUMNS,
                tuple(_rows(supply)),
                _note(supply),
            )


def way_loss(supply: OutletSupply) -> Number:
    """What all pieces of a way lose; of a hot and a cold leg the one that loses more."""
    counted = [piece for piece in supply.budget if piece.kind in ("run", "valve")]
    return stated(
        f"loss of the whole way to the {supply.outlet}",
        float(sum(piece.loss.likely for piece in counted)),
        PRESSURE_DIFFERENCE,
        "All runs and valves on the way, of a hot and a cold leg the one that loses more.",
        parts=[(piece.label, piece.loss) for piece in counted],
        source=LOSSES,
    ).keyed("outlet", supply.outlet, "way_loss")


def _note(supply: OutletSupply) -> Say:
    """What else goes into the sums, and which leg does not count."""
    path, waters = supply.case.physics, dict[tuple[float, ...], list[str]]()
    for place, run in enumerate(supply.way.runs):
        known = (path.density, path.viscosity, path.roughness)
        waters.setdefault(tuple(_here(supply, place, each) for each in known), []).append(run)
    told = tuple(
        say(
            "ρ {density}, μ {viscosity}, ε {roughness} in {runs}",
            density=_plain("density of the water", density, DENSITY, _OF_WATER, _said(water.density)).rounded(4),
            viscosity=_plain("viscosity of the water", viscosity, VISCOSITY, _OF_WATER, _said(water.viscosity)).amount,
            roughness=_plain("roughness of the wall", roughness, ROUGHNESS, "Of its size, or as planned.").amount,
            runs=tuple(runs),
        )
        for (density, viscosity, roughness), runs in waters.items()
    )
    idle = _throttled(supply)
    return say(
        "{water}{idle}.",
        water=told,
        idle=say("; not counted, since the tap throttles it to the other leg: {runs}", runs=tuple(idle))
        if idle
        else "",
    )


def _here(supply: OutletSupply, place: int, values: object) -> float:
    """What holds for the plan in one of the runs."""
    return float(supply.in_run(place, values)[0])


def _throttled(supply: OutletSupply) -> list[str]:
    counted = {piece.label for piece in supply.budget if piece.kind == "run"}
    return [run for run in supply.way.runs if run not in counted]


def _rows(supply: OutletSupply) -> Iterator[tuple[Cell, ...]]:
    numbers, mixer = numbering(supply.plan), supply.way.mixer
    before_mixer = len(supply.way.runs) - len(supply.way.mixed)
    for place, run in enumerate(supply.way.runs):
        if place == before_mixer and supply.valve_loss.likely > 0.0:
            yield _row(mixer, loss=supply.valve_loss)
        yield from _of_run(supply, place, run, numbers.runs.get(run, 0))
    if not supply.way.mixed and supply.valve_loss.likely > 0.0:
        yield _row(mixer, loss=supply.valve_loss)
    yield _row(say("the whole way"), loss=way_loss(supply))
    yield _row(say("lift"), loss=supply.lift)
    yield _row(supply.outlet, loss=supply.pressure)


def _row(piece: Cell, **known: Number | str | None) -> tuple[Cell, ...]:
    heads = ("bore", "length", "flow", "speed", "re", "regime", "f", "k", "loss")
    cells = (known.get(head) for head in heads)
    return (piece, *(cell.amount if isinstance(cell, Number) else cell for cell in cells))


def _of_run(supply: OutletSupply, place: int, run: str, number: int) -> Iterator[tuple[Cell, ...]]:
    plan, path, out = supply.plan, supply.case.physics, supply.outlet
    planned = plan.runs[run]

    here = partial(_here, supply, place)
    bore, density, viscosity, rough = map(here, (path.bore, path.density, path.viscosity, path.roughness))
    where = f"the {run} with the {out} open"
    flow = _plain(f"flow in {where}", float(supply.flow_in(place)[0]), FLOW, "Its share of the flow.", LOSSES)
    flow = flow.keyed("run", run, "flow", out)
    wide = _plain(f"bore of the {run}", bore, BORE, "Of its size, or as measured.").keyed("run", run, "bore")
    speed = step(f"speed in {where}", velocity, flow=flow, bore=bore).keyed("run", run, "speed", out)
    re = step(f"Reynolds number in {where}", reynolds, flow=flow, bore=bore, density=density, viscosity=viscosity)
    re = re.keyed("run", run, "reynolds", out)
    relative = float(relative_roughness(rough, bore))
    f = step(f"friction factor in {where}", friction_factor, reynolds=re, relative_roughness=relative)
    f = f.keyed("run", run, "friction_factor", out)
    own = {kind: small_loss(plan, kind, np.array([bore]), planned.clogged) for kind in planned.fittings}
    added = {kind: planned.fittings[kind] * float(length[0]) for kind, (_, length) in own.items()}
    worth = {kind: planned.fittings[kind] * float(k[0]) for kind, (k, _) in own.items()}

    def wall(length: float, of: str) -> Number:
        return step(
            of,
            friction_loss,
            flow=flow.likely,
            bore=bore,
            length=length,
            roughness=rough,
            density=density,
            viscosity=viscosity,
        )

    straight = here(path.length) - sum(added.values())
    yield _row(
        say("R{number} {run}", number=str(number), run=run),
        bore=wide,
        length=_plain(f"length of the {run}", straight, LENGTH, "As planned.").keyed("run", run, "length"),
        flow=flow,
        speed=speed,
        re=re,
        regime=_regime(re.likely),
        f=f if re.likely > 0.0 else None,
        loss=wall(straight, f"friction along {where}").keyed("run", run, "friction", out),
    )
    at_fitting = partial(step, flow=flow.likely, bore=bore, density=density)
    for kind, count in planned.fittings.items():
        if count:
            key, label = ("run", run, kind), _fitting(supply, run, kind, count)
            if added[kind]:
                long = _plain(
                    f"equivalent length of {kind} in {run}", added[kind], LENGTH, _FROM_TABLE, _known(plan, kind).source
                )
                loss = wall(added[kind], f"loss of {kind} in {where}")
                yield _row(label, length=long.keyed(*key, "length"), loss=loss.keyed(*key, "loss", out))
            else:
                k = _k(supply, run, kind, count, worth[kind])
                loss = at_fitting(f"loss of {kind} in {where}", k_loss, k=k)
                yield _row(label, k=k, loss=loss.keyed(*key, "loss", out))
    rest = here(path.k) - sum(worth.values())
    if abs(rest) > _NO_K:
        k = _plain(f"own K of the {run}", rest, RATIO, "As planned, and how far a regulator before it falls.")
        loss = at_fitting(f"loss by its own K in {where}", k_loss, k=k)
        yield _row(say("its own"), k=k.keyed("run", run, "k"), loss=loss.keyed("run", run, "own_loss", out))


_FROM_TABLE = "By the table of fittings, times their number."
_OF_WATER = "At the temperature of the water there."


def _plain(name: str, value: float, quantity: Quantity, method: str, source: str = "the plan") -> Number:
    return stated(name, value, quantity, method, source=source)


def _said(law: Callable[..., object]) -> str:
    """Where a law says that it is from."""
    return documented(law).source


def _known(plan: Plan, kind: str) -> Fitting | FittingRow:
    """A fitting of one's own, else that of the table."""
    return plan.fittings.get(kind) or fittings()[kind]


def _fitting(supply: OutletSupply, run: str, kind: str, count: int) -> Cell:
    number = numbering(supply.plan).pieces.get(joined(("runs", run, "fittings", kind)))
    named = say("{kind}", kind=in_either(kind))
    if number is not None:
        return say("{number} {kind}", number=str(number), kind=named)
    return say("{count} × {kind}", count=count, kind=named)


def _k(supply: OutletSupply, run: str, kind: str, count: int, worth: float) -> Number:
    return stated(
        f"K of {kind} in the {run}",
        worth,
        RATIO,
        "Loss coefficient on the bore of the run, times their number.",
        facts=(("each", (worth / count, RATIO)), ("how many", f"{count}")),
        source=_known(supply.plan, kind).source,
    ).keyed("run", run, kind, "k")


def _regime(re: float) -> str:
    """How water flows, by the limits of the friction law."""
    return "laminar" if re <= LAMINAR_LIMIT else "turbulent" if re >= TURBULENT_LIMIT else "between"
