"""Whether each hose, pipe and rated piece stands the pressure and the warmth that can come to it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.statement import Amount, Count, Say, say
from vanwater.answers.ratings.pieces import CAUSES, MARGIN, least_relief, pieces_findings
from vanwater.plan.model import Plan
from vanwater.plan.ratings import rating_at
from vanwater.plan.tables import PipeRow, pipes
from vanwater.quantities import PRESSURE, SHARE, TEMPERATURE
from vanwater.system.design_pressure import DesignPressure, design_pressures

__all__ = ["ratings_findings"]

DRAIN = "drain"
OWN_GRADE = {"polyamide": "made for fuel and air"}
"""Materials that are mostly sold for something else than drinking water, and for what."""

RULE = "ratings of the table of pipes, a straight line between the two temperatures; margin of 10 %: common practice"


@dataclass(frozen=True, slots=True)
class _Rated:
    """One run of a stock size, what it can see and what it stands there."""

    run: str
    row: PipeRow
    design: DesignPressure
    stands: float | None

    @property
    def load(self) -> float | None:
        """Share of the rating that can come; None where one of both is not known."""
        if self.stands is None or self.design.pressure is None:
            return None
        return self.design.pressure / self.stands


def ratings_findings(plan: Plan) -> Iterator[Finding]:
    """What is to be said of the stock sizes against pressure and warmth.

    Parameters
    ----------
    plan : Plan
        The plan.

    Yields
    ------
    Finding
        One for each stock size that does not stand what comes or is not made for drinking water, else one on the
        weakest piece; then the same for joints, fittings, heaters and accumulators.
    """
    table = pipes()
    found = design_pressures(plan)
    sized = [(name, table[size], design) for name, design in found.items() if (size := plan.runs[name].size)]
    rated = [_Rated(name, row, design, rating_at(row, design.temperature)) for name, row, design in sized]
    pumped = max((design.pressure or 0.0 for _, _, design in sized if design.cause != "relief"), default=0.0)
    told: dict[tuple[str, str], list[_Rated]] = {}
    for one in rated:
        fault = _fault(one)
        if fault:
            told.setdefault((one.row.key, fault), []).append(one)
    for (size, fault), those in told.items():
        yield _finding(size, fault, those, pumped)
    pressed = [(one.load, one) for one in rated if one.load is not None]
    if pressed and not told:
        yield _weakest(max(pressed, key=lambda pair: pair[0])[1], len(found) - len(rated))
    for material, made_for in OWN_GRADE.items():
        runs = [one for one in rated if one.row.material == material]
        if runs:
            yield _grade(material, made_for, runs)
    yield from pieces_findings(plan, found, pumped)


def _fault(one: _Rated) -> str:
    if one.row.kind == DRAIN:
        return DRAIN
    if one.design.temperature > one.row.hottest:
        return "hot"
    if one.load is None or one.load <= 1.0 - MARGIN:
        return ""
    return "weak" if one.load > 1.0 else "close"


def _finding(size: str, fault: str, those: list[_Rated], pumped: float) -> Finding:
    worst = max(those, key=lambda one: (one.load or 0.0, one.design.temperature))
    given: Mapping[str, Say | str | Amount | tuple[str, ...]] = {
        "runs": tuple(one.run for one in those),
        "be": "are" if len(those) > 1 else "is",
        "size": size,
    }
    address = f"runs.{worst.run}.size"
    instead = _instead(worst)
    change = say("Take {other}.", other=instead.key) if instead is not None else say("Take a stronger size.")
    key = f"ratings.{size}.{fault}"
    if fault == DRAIN:
        told = say("The {runs} {be} {size}: it stands no pressure and is not made for fresh water.", **given)
        return Finding(key, Verdict.FAILS, told, change=change, address=address, source=worst.row.source)
    if fault == "hot":
        warmth, limit = Amount(worst.design.temperature, TEMPERATURE), Amount(worst.row.hottest, TEMPERATURE)
        told = say(
            "The {runs} {be} {size}, for {limit} at most; {warmth} can come.", limit=limit, warmth=warmth, **given
        )
        return Finding(
            key, Verdict.FAILS, told, value=warmth, limit=limit, change=change, address=address, source=worst.row.source
        )
    assert worst.design.pressure is not None and worst.stands is not None
    pressure, limit = Amount(worst.design.pressure, PRESSURE), Amount(worst.stands, PRESSURE)
    told = say(
        "The {runs} {be} {size}, which stands {limit} at {warmth}; {pressure} can come {cause}.",
        limit=limit,
        warmth=Amount(worst.design.temperature, TEMPERATURE),
        pressure=pressure,
        cause=CAUSES[worst.design.cause],
        **given,
    )
    verdict = Verdict.FAILS if fault == "weak" else Verdict.WATCH
    least = least_relief(worst.stands)
    if worst.design.cause == "relief" and least > pumped:
        change = say(
            "{other} Or fit a relief valve that opens at {least} or less.",
            other=change,
            least=Amount(least, PRESSURE, 2),
        )
    return Finding(key, verdict, told, value=pressure, limit=limit, change=change, address=address, source=RULE)


def _weakest(one: _Rated, others: int) -> Finding:
    assert one.design.pressure is not None and one.stands is not None and one.load is not None
    pressure, limit = Amount(one.design.pressure, PRESSURE), Amount(one.stands, PRESSURE)
    told = say(
        "The weakest hose or pipe is the {run}: {size} stands {limit} at {warmth}, {pressure} can come {cause}; "
        "{spare} to spare.{rest}",
        run=one.run,
        size=one.row.key,
        limit=limit,
        warmth=Amount(one.design.temperature, TEMPERATURE),
        pressure=pressure,
        cause=CAUSES[one.design.cause],
        spare=Amount(1.0 - one.load, SHARE, 2),
        rest=say(" Not judged: {runs} without a stock size.", runs=Count(others, "run")) if others else "",
    )
    return Finding(
        "ratings.pipes",
        Verdict.FINE,
        told,
        value=pressure,
        limit=limit,
        address=f"runs.{one.run}.size",
        source=RULE,
    )


def _grade(material: str, made_for: str, those: list[_Rated]) -> Finding:
    return Finding(
        f"ratings.material.{material}",
        Verdict.WATCH,
        say(
            "The {runs} {be} of {material}, which is mostly {made_for}.",
            runs=tuple(one.run for one in those),
            be="are" if len(those) > 1 else "is",
            material=material,
            made_for=made_for,
        ),
        change=say("Take a grade certified for drinking water."),
        address=f"runs.{those[0].run}.size",
        source=those[0].row.source,
    )


def _instead(one: _Rated) -> PipeRow | None:
    """The stock size nearest in kind and bore that stands what comes, with the margin."""
    hose = one.row.kind == "hose" or (one.row.kind == DRAIN and "barb" in one.row.joint)
    stand = []
    for row in pipes().values():
        rating = rating_at(row, one.design.temperature)
        enough = rating is not None and (one.design.pressure or 0.0) <= (1.0 - MARGIN) * rating
        if row.kind != DRAIN and row.material not in OWN_GRADE and enough:
            stand.append(row)

    def order(row: PipeRow) -> tuple[bool, bool, float]:
        return (row.kind == "hose") is not hose, row.material == "copper", abs(row.bore - one.row.bore)

    return min(stand, key=order, default=None)
