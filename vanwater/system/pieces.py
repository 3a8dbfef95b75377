"""What each rated piece of the supply can come to see: joints, filters, valves, heaters, accumulators."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from vanwater.plan.joint import read_joint
from vanwater.plan.model import Plan
from vanwater.plan.ratings import RatingRow, rating_at, rating_of, ratings_of_fitting
from vanwater.plan.tables import PipeRow, fittings
from vanwater.system.design_pressure import DesignPressure

__all__ = ["Piece", "pieces"]


@dataclass(frozen=True, slots=True)
class Piece:
    """A rated piece, where it sits and what it can come to see.

    Parameters
    ----------
    row : RatingRow or PipeRow
        Row of the table of ratings, or of that of stock sizes.
    at : str
        Run that holds it; or the heater or accumulator itself.
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
        Fittings and joints run by run, each row of the table once a run; then heaters and accumulators.

    Notes
    -----
    Barbs, crimp and press joints hold as much as their hose or pipe, and compression joints are what copper tube is
    rated by: they are judged with it. A fitting of one's own has no rating here. Runs that meet at a heater or an
    accumulator have one pressure there, the least of theirs: what a run sees behind its check valve stays there. A
    heater is as warm as its set point, an accumulator as the warmest of those runs.
    """
    for name, design in pressures.items():
        seen: dict[str, Piece] = {}
        for row, address in _of_run(plan, name):
            seen.setdefault(row.key, Piece(row, name, address, design))
        yield from seen.values()
    of_heater, of_accumulator = rating_of("piece", "heater"), rating_of("piece", "accumulator")
    for place, heater in plan.heaters.items():
        met = _met(plan, pressures, place)
        if of_heater is not None and met is not None:
            warm = DesignPressure(met.pressure, met.cause, heater.set_point, place)
            yield Piece(of_heater, place, f"heaters.{place}.relief", warm)
    for name, accumulator in plan.accumulators.items():
        met = _met(plan, pressures, accumulator.at)
        if of_accumulator is not None and met is not None:
            yield Piece(of_accumulator, name, f"accumulators.{name}.at", met)


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
