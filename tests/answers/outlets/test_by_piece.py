from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.drawn import WHOLE_PLANS
from tests.examples import NAMES, example
from tests.strategies import plans
from vanwater.answers.core.gathered import numbers_in
from vanwater.answers.core.working import recomputed
from vanwater.answers.outlets.answer import Outlets, outlets
from vanwater.answers.outlets.by_piece import by_piece, way_loss
from vanwater.plan.model import Plan
from vanwater.system.numbering import numbering

HEADS = ("piece", "bore", "length", "flow", "speed", "Re", "it flows", "f", "K", "loss")


def runs_of(table, supply):
    """The rows of each run, its fittings' among them, and the rows at the end."""
    names = {f"R{number} {run}": run for run, number in numbering(supply.plan).runs.items()}
    found: dict[str, list[dict[str, Any]]] = {}
    ends: list[dict[str, Any]] = []
    here: list[dict[str, Any]] = []
    for row in (dict(zip(HEADS, row, strict=True)) for row in table.rows):
        label = row["piece"] if isinstance(row["piece"], str) else row["piece"].text()
        if label in names:
            here = found[names[label]] = []
        elif label == "the whole way" or ends:
            ends.append(row)
            continue
        elif label == supply.way.mixer:
            found[label] = [row]
            continue
        here.append(row)
    return found, ends


def hold(answer: Outlets) -> int:
    """Every table of an answer against the solve: how many ways there were."""
    reached = [supply for supply in answer.outlets.values() if supply.reaches]
    tables = list(by_piece(answer))
    assert len(tables) == len(reached)
    for table, supply in zip(tables, reached, strict=True):
        found, (whole, lift, outlet) = runs_of(table, supply)
        assert [name for name in found if name != supply.way.mixer] == list(supply.way.runs)
        sums = {name: sum(row["loss"].value for row in rows) for name, rows in found.items()}
        scale = sum(map(abs, sums.values())) + 1e-3
        for place, run in enumerate(supply.way.runs):
            assert sums[run] == pytest.approx(float(supply.state.losses[0, place]), abs=1e-6 * scale)
        counted = [piece.label for piece in supply.budget if piece.kind in ("run", "valve")]
        assert whole["loss"].value == pytest.approx(sum(sums[name] for name in counted), abs=1e-6 * scale)
        assert lift["loss"].value == supply.lift.likely and outlet["loss"].value == supply.pressure.likely
        for rows in found.values():
            for row in rows:
                for cell in row.values():
                    number = getattr(cell, "number", None)
                    assert number is None or number.key
                    again = None if number is None else recomputed(number)
                    assert again is None or float(again.flat[0]) == pytest.approx(number.likely, rel=1e-9, abs=1e-300)
    return len(reached)


@pytest.mark.parametrize("name", NAMES)
def test_the_losses_of_the_pieces_add_up_to_those_of_the_way(name: str) -> None:
    assert hold(outlets(example(name))) > 0


@st.composite
def vans(draw: st.DrawFn) -> Plan:
    """An example with other lengths, bores, own losses and fittings."""
    plan = example(draw(st.sampled_from(NAMES)))
    kinds = st.sampled_from(("push-fit elbow", "barb tee run", "strainer", "stop tap", "metal crimp coupling 1/2 in"))
    changes: dict[str, Any] = {}
    for run in draw(st.lists(st.sampled_from(sorted(plan.runs)), min_size=1, unique=True)):
        changes[f"runs.{run}.length"] = f"{draw(st.floats(0.05, 12.0)):.3f} m"
        changes[f"runs.{run}.k"] = draw(st.sampled_from((0.0, 0.7, 12.5)))
        changes[f"runs.{run}.clogged"] = draw(st.sampled_from(("0 %", "40 %")))
        changes[f"runs.{run}.fittings.{draw(kinds)}"] = draw(st.integers(0, 4))
    return plan.changed(changes)


@WHOLE_PLANS
@given(vans())
def test_they_add_up_whatever_the_runs_are(plan: Plan) -> None:
    assert hold(outlets(plan)) > 0


@WHOLE_PLANS
@given(plans())
def test_no_plan_is_left_without_its_tables(raw: dict[str, Any]) -> None:
    hold(outlets(Plan.of(raw, file=True)))


def test_a_run_is_told_by_the_formulas_of_a_handbook() -> None:
    """v = 4 Q/(π D²), Re = v D ρ/μ, Δp = f L/D ρ v²/2, Δp = K ρ v²/2: by hand from what the rows tell."""
    answer = outlets(example("family-winter"))
    supply = answer.outlets["basin tap"]
    table = next(table for table in by_piece(answer) if "basin" in table.key)
    found, _ = runs_of(table, supply)
    path = supply.case.physics
    for place, run in enumerate(supply.way.runs):
        own, *fittings = found[run]
        bore, flow = own["bore"].value, own["flow"].value
        density, viscosity = float(path.density[0, place]), float(path.viscosity[0, place])
        speed = 4 * flow / (math.pi * bore**2)
        assert own["speed"].value == pytest.approx(speed)
        assert own["Re"].value == pytest.approx(speed * bore * density / viscosity)
        dynamic = density * speed**2 / 2
        assert own["loss"].value == pytest.approx(own["f"].value * own["length"].value / bore * dynamic)
        for row in fittings:
            assert row["loss"].value == pytest.approx(row["K"].value * dynamic)
        assert own["it flows"] == ("turbulent" if own["Re"].value >= 4000 else "between")


def test_a_wide_run_flows_laminar() -> None:
    plan = example("family-winter").changed({"runs.trunk.size": None, "runs.trunk.bore": "80 mm"})
    supply = outlets(plan).outlets["basin tap"]
    table = next(table for table in by_piece(outlets(plan)) if "basin" in table.key)
    own = runs_of(table, supply)[0]["trunk"][0]
    assert own["Re"].value < 2300 and own["it flows"] == "laminar"
    assert own["f"].value == pytest.approx(64 / own["Re"].value)


def test_fittings_whose_loss_is_a_length_of_pipe_are_told_as_one() -> None:
    plan = example("family-winter").changed({"runs.trunk.fittings.metal crimp elbow 1/2 in": 2})
    answer = outlets(plan)
    assert hold(answer) > 0
    table = next(iter(by_piece(answer)))
    (row,) = (
        dict(zip(HEADS, row, strict=True)) for row in table.rows if "crimp" in str(getattr(row[0], "text", str)())
    )
    assert row["length"].value == pytest.approx(2 * 9.4 * 0.3048) and row["K"] is None


def test_the_leg_that_is_throttled_is_named_and_not_counted() -> None:
    answer = outlets(example("family-winter"))
    notes = {table.key: table.note.text() for table in by_piece(answer)}
    assert "throttles it to the other leg: cold trunk and cold shower line" in notes["pieces shower"]
    assert "throttles" not in notes["pieces basin tap"]


def test_the_whole_way_is_a_number_with_a_sum() -> None:
    supply = outlets(example("family-winter")).outlets["shower"]
    number = way_loss(supply)
    assert number.key == ("outlet", "shower", "way_loss")
    parts = sum(piece.value.likely for piece in number.given)
    assert number.likely == pytest.approx(parts)
    left = supply.rise.likely - supply.lift.likely - supply.pressure.likely
    assert number.likely == pytest.approx(left, rel=1e-4)


def test_a_number_names_the_source_that_it_is_from() -> None:
    plan = example("family-winter").changed({"runs.trunk.fittings.metal crimp elbow 1/2 in": 2})
    supply = outlets(plan).outlets["basin tap"]
    table = next(table for table in by_piece(outlets(plan)) if "basin" in table.key)
    sources = {
        (label, head): cell.number.made_of.source
        for label, rows in runs_of(table, supply)[0].items()
        for row in rows
        for head, cell in row.items()
        if hasattr(cell, "number") and (head != "length" or row["it flows"] is None)
    }
    assert sources["trunk", "flow"].startswith("Darcy-Weisbach")
    assert sources["trunk", "bore"] == "the plan" != sources["trunk", "length"]
    assert table.note is not None
    waters = [number.made_of.source for number in numbers_in(table.note) if "of the water" in number.name]
    assert waters and all(source.startswith("IAPWS") for source in waters)


def test_the_k_of_several_fittings_is_that_of_each_times_their_number() -> None:
    plan = example("family-winter").changed({"runs.trunk.fittings.push-fit elbow": 3})
    tables = by_piece(outlets(plan))
    elbows = next(each for each in numbers_in(*tables) if each.key == ("run", "trunk", "push-fit elbow", "k"))
    given = {piece.name: piece.value for piece in elbows.facts}
    assert given["how many"] == "3" and 3 * given["each"].value == pytest.approx(elbows.likely) and elbows.likely > 0
