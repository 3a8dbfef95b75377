"""The list of parts adds up with the plan: metres, counts, masses, prices."""

from __future__ import annotations

from collections import Counter

import pytest
from hypothesis import given

from tests.drawn import WHOLE_PLANS
from tests.examples import NAMES, example, example_answers
from tests.strategies import Raw, plans
from tests.walk import walk
from vanwater.answers.core.statement import Say
from vanwater.answers.core.table import Table
from vanwater.answers.parts.answer import parts
from vanwater.answers.parts.lengths import SPARE, size_of
from vanwater.answers.parts.question import QUESTION
from vanwater.answers.questions import answers_to
from vanwater.plan.model import Plan
from vanwater.plan.stock import Shelf, stock_part
from vanwater.plan.tables import fittings


def table(plan: Plan, key: str) -> Table | None:
    return next((table for table in parts(plan).tables if table.key == key), None)


def adds_up(plan: Plan) -> None:
    answer = parts(plan)
    lengths: Counter[str] = Counter()
    for name, run in plan.runs.items():
        if run.length is not None and size_of(plan, name):
            lengths[size_of(plan, name)] += run.length  # type: ignore[assignment]
    assert {size.name: pytest.approx(float(size.cut.likely)) for size in answer.sizes} == dict(lengths)
    for size in answer.sizes:
        assert size.cut.likely * (1 + SPARE) - 1e-9 <= size.order.likely <= size.cut.likely * (1 + SPARE) + 0.5
    held = table(plan, "fittings")
    counted = sum(int(str(row[2])) for row in held.rows) if held is not None else 0
    assert counted == own_count(plan)


def own_count(plan: Plan) -> int:
    """What somebody would count on the finished van: fittings on runs, tees with something on them, mixing taps."""
    known = fittings()
    laid = {"bend", "tee run", "tee branch", "manifold", "mixer", "heater", "outlet"}
    total = len(plan.mixers)
    for run in plan.runs.values():
        total += sum(count for key, count in run.fittings.items() if key not in known or known[key].kind not in laid)
    joined = {place for run in plan.runs.values() for place in (run.start, run.end)}
    joined |= {part.at for part in plan.accumulators.values()}
    return total + sum(name in joined for name in plan.tees)


def test_every_example_adds_up_and_every_number_leads_to_its_sum() -> None:
    for name in NAMES:
        adds_up(example(name))
        walk(QUESTION.ask(example(name)))


@given(plans())
@WHOLE_PLANS
def test_any_plan_adds_up(raw: Raw) -> None:
    adds_up(Plan.of(raw))


def test_the_family_van() -> None:
    answer = example_answers("family-winter")["parts"]
    assert answer.numbers['size."pex 12 mm".cut'].likely == pytest.approx(0.8 + 2.6 + 1.3)
    assert answer.numbers['size."pex 12 mm".order'].likely == pytest.approx(5.5)
    said = answer.verdict.text().replace("\N{NO-BREAK SPACE}", " ")
    assert said.startswith("To order: 5 sizes of hose and pipe, most of it polyethylene tube 12 mm, 10 m")


def test_a_tee_is_ordered_once_with_all_its_ends() -> None:
    held = table(example("family-winter"), "fittings")
    assert held is not None
    rows = [tuple(cell.text() if isinstance(cell, Say) else cell for cell in row) for row in held.rows]
    tees = [row for row in rows if str(row[0]).startswith("tee ")]
    assert [row[3] for row in tees] == ["tee", "cold tee", "hot tee"]
    assert tees[0][:3] == ("tee or manifold with 4 ends", "3 × polyethylene tube 12 mm, 1 × accumulator", "1")
    assert next(row for row in rows if row[0] == "mixing tap")[2] == "2"


def test_in_us_units_it_is_ordered_by_the_foot() -> None:
    answer = example_answers("family-winter").read_in(True)["parts"]
    feet = answer.numbers['size."pex 12 mm".order'].likely / 0.3048
    assert feet == pytest.approx(round(feet)) and feet >= 4.7 * 1.1 / 0.3048


def test_a_run_without_length_is_told_and_none_at_all_is_not_decided() -> None:
    raw = dict(example("weekend-cans").own)
    raw["runs"] = {
        name: {key: value for key, value in run.items() if key != "length"} for name, run in raw["runs"].items()
    }
    answer = QUESTION.ask(Plan.of(raw, file=True))
    assert not answer.decided
    (finding,) = answer.findings
    assert "without a size or a length" in finding.statement.text() and finding.address.endswith(".length")


def test_prices_of_the_shelf_add_up_and_what_has_none_is_told() -> None:
    def shelf(**said: object) -> Shelf:
        own = {"volume": "1 L", "about": "small vessel"} | said
        return Shelf(
            "shelf.toml", {"accumulators": {"my vessel": stock_part("accumulators", "my vessel", own, "shelf")}}
        )

    raw = dict(example("weekend-cans").own)
    raw["tees"] = {"tee": {}}
    raw["accumulators"] = {"vessel": {"stock": "my vessel", "at": "galley tap"}}
    raw["shelf"] = "shelf.toml"
    plan = Plan.of(raw, file=True, shelf=shelf(price="35 EUR", mass="1.2 kg"))
    answer = QUESTION.ask(plan)
    assert answer.numbers["plan.price"].likely == 35.0
    rows = table(plan, "parts")
    assert rows is not None and rows.rows[0][0] == "my vessel"
    assert "come to 35" in " ".join(finding.statement.text() for finding in answer.findings)
    assert not parts(Plan.of(raw, file=True, shelf=shelf())).findings


def test_the_cut_list_follows_the_numbers_of_the_drawing() -> None:
    plan = example("family-winter")
    cuts = table(plan, "cuts")
    assert cuts is not None and len(cuts.rows) == sum(run.length is not None for run in plan.runs.values())
    assert {str(row[0]) for row in cuts.rows} <= {f"R{number}" for number in range(1, len(plan.runs) + 1)}


def test_it_is_asked_with_all_the_others() -> None:
    assert "parts" in answers_to(example("weekend-cans")).each
