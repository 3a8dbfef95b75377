"""What each rated piece of the supply can come to see: joints, fittings, heaters, accumulators, pumps, taps."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from vanwater.plan.joint import read_joint
from vanwater.plan.model import Plan
from vanwater.plan.ratings import RatingRow, rating_at, rating_of, ratings, ratings_of_fitting
from vanwater.plan.tables import PipeRow, fittings
from vanwater.system.design_pressure import Cause, DesignPressure, checked, driven_pressures

__all__ = ["Piece", "pieces"]

FROM_OUTSIDE: tuple[Cause, ...] = ("mains", "regulator", "relief")
"""Causes of a pressure that a pump does not make itself."""

TAP = "low-pressure tap"
"""Row whose warmth counts for an outlet of which only a plate is known."""

PLAN = "the plan: as its plate says"


@dataclass(frozen=True, slots=True)
class Piece:
    """A rated piece, where it sits and what it can come to see.

    Parameters
    ----------
    row : RatingRow or PipeRow
        Row of the table of ratings, or of that of stock sizes; that of a plate told in the plan.
    at : str
        Run that holds it; or the heater, accumulator, pump or outlet itself.
    address : str
        Where the plan says it.
    design : DesignPressure
        What it can come to see.
    """

    row: RatingRow | PipeRow
    at: str
    address: str
    design: DesignPressure

    @property
    def stands(self) -> float | None:
        """Gauge pressure that it stands at that warmth [Pa]; None hotter than it is made for."""
        return rating_at(self.row, self.design.temperature)

    @property
    def load(self) -> float | None:
        """Share of that pressure which can come [-]; None where one of both is not known."""
        if self.stands is None or self.design.pressure is None:
            return None
        return self.design.pressure / self.stands


def pieces(plan: Plan, pressures: Mapping[str, DesignPressure]) -> Iterator[Piece]:
    """Every piece of the supply of which the table of ratings knows something.

    Parameters
    ----------
    plan : Plan
        The plan.
    pressures : mapping of str to DesignPressure
        What each run can come to see.

    Yields
    ------
    Piece
        Fittings and joints run by run, each row of the table once a run; then heaters, accumulators, pumps and taps.

    Notes
    -----
    Crimp and press joints hold as much as their pipe, and compression joints are what copper tube is rated by: they are
    judged with it. A fitting of one's own has no rating here. Runs that meet at a pump, a heater or an accumulator have
    one pressure there, the least of theirs: what a run sees behind its check valve stays there; what a pump makes
    itself it stands. A heater is as warm as its set point, the others as the warmest of those runs. A tap is judged by
    what pumps and mains bring where it shuts the water off, at its mixing tap if it has one. A plate that the plan
    tells comes before the table.
    """
    for name, design in pressures.items():
        seen: dict[str, Piece] = {}
        for row, address in _of_run(plan, name):
            seen.setdefault(row.key, Piece(row, name, address, design))
        yield from seen.values()
    for place, heater in plan.heaters.items():
        met = _met(plan, pressures, place)
        if met is not None:
            warm = DesignPressure(met.pressure, met.cause, heater.set_point, place)
            yield from _rated("piece", "heater", place, f"heaters.{place}", "relief", heater.rated, warm)
    for name, accumulator in plan.accumulators.items():
        met = _met(plan, pressures, accumulator.at)
        if met is not None:
            yield from _rated("piece", "accumulator", name, f"accumulators.{name}", "at", accumulator.rated, met)
    for name, pump in plan.pumps.items():
        met = _met(plan, {run: design for run, design in pressures.items() if not checked(plan, plan.runs[run])}, name)
        if met is not None and pump.kind != "submersible" and met.cause in FROM_OUTSIDE:
            yield from _rated("piece", "pump", name, f"pumps.{name}", "kind", pump.rated, met)
    for name, outlet in plan.outlets.items():
        met = _at_tap(plan, name)
        if met is not None:
            yield from _rated("outlet", outlet.type or "", name, f"outlets.{name}", "type", outlet.rated, met)


def _rated(
    kind: str, covers: str, place: str, part: str, field: str, rated: float | None, design: DesignPressure
) -> Iterator[Piece]:
    """A piece with its plate's rating, else the table's; none where neither is known."""
    row = rating_of(kind, covers)
    if rated is not None:
        row = row or ratings()[TAP]
        row = replace(row, key=f"{row.key}.{place}", rated_pressure=rated, hot_pressure=rated, least=False, source=PLAN)
        field = "rated"
    if row is not None:
        yield Piece(row, place, f"{part}.{field}", design)


def _at_tap(plan: Plan, outlet: str) -> DesignPressure | None:
    """What pumps and mains bring where an outlet's water is shut off; None where nothing presses."""
    driven = driven_pressures(plan)
    shut = {outlet} | {run.start for run in plan.runs.values() if run.end == outlet and run.start in plan.mixers}
    places = shut - {outlet} or shut
    met = [design for name, design in driven.items() if plan.runs[name].end in places and design.pressure is not None]
    if not met:
        return None
    most, warmest = (
        max(met, key=key) for key in (lambda design: design.pressure or 0.0, lambda design: design.temperature)
    )
    return DesignPressure(most.pressure, most.cause, warmest.temperature, warmest.heater)


def _of_run(plan: Plan, name: str) -> Iterator[tuple[RatingRow, str]]:
    run = plan.runs[name]
    for kind, count in run.fittings.items():
        if count and kind not in plan.fittings:
            for row in ratings_of_fitting(fittings()[kind]):
                yield row, f"runs.{name}.fittings.{kind}"
    for which, text in (("start", run.start_joint), ("end", run.end_joint)):
        held = rating_of("joint", read_joint(text).kind) if text else None
        if held is not None:
            yield held, f"runs.{name}.{which}_joint"


def _met(plan: Plan, pressures: Mapping[str, DesignPressure], place: str) -> DesignPressure | None:
    """What the runs that meet at a place can see there; None where nothing presses."""
    met = [design for name, design in pressures.items() if place in (plan.runs[name].start, plan.runs[name].end)]
    pressed = [(design.pressure, design.cause) for design in met if design.pressure is not None]
    if not pressed:
        return None
    warmest = max(met, key=lambda design: design.temperature)
    return DesignPressure(*min(pressed), warmest.temperature, warmest.heater)
