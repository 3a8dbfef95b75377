from __future__ import annotations

import pytest

from tests.answers.frosty import frosty
from vanwater.answers.frost.answer import Frost, frost

PLAN = frosty(tanks__fresh__faces={"top": {"beside": "room"}}, frost__hours_driving="2 h")


@pytest.fixture(scope="module")
def answer() -> Frost:
    return frost(PLAN)


def value(answer: Frost, key: str) -> float:
    return float(answer.numbers[f"frost.{key}"].value.ravel()[0])


def test_sums_and_ranges_are_the_same_numbers(answer: Frost) -> None:
    one = answer.tanks[0]
    pad, day, run = one.pad, answer.day, answer.runs[0]
    assert pad is not None and day is not None
    same = {
        "fresh.loss_parked": one.parked,
        "fresh.loss_driving": one.driving,
        "fresh.hours_parked.full": one.hours["full"],
        "fresh.hours_parked.half": one.hours["half"],
        "fresh.hours_parked.tenth": one.hours["tenth"],
        "fresh.hours_driving.tenth": one.hours_driving["tenth"],
        "fresh.duty_parked": pad.duty,
        "fresh.duty_driving": pad.duty_driving,
        "fresh.holds_parked": pad.holds,
        "fresh.holds_driving": pad.holds_driving,
        "fresh.energy": pad.energy,
        "hose.hours_parked": run.hours,
        "hose.hours_driving": run.hours_driving,
        "pads": day.energy,
        "nights": day.nights,
    }
    for key, told in same.items():
        assert value(answer, key) == pytest.approx(told.likely, rel=1e-9), key
    assert value(answer, "fresh.smallest") == pytest.approx(max(pad.smallest, pad.smallest_driving))
    assert one.hours["full"].likely + value(answer, "fresh.ice") == pytest.approx(one.ice.likely)


def test_a_loss_unfolds_to_its_faces_and_their_layers(answer: Frost) -> None:
    text = "\n".join(answer.numbers["frost.fresh.loss_parked"].lines())
    assert "1 / (1 / h_i + e_w / λ_w + e_f / λ_f + 1 / h_o)" in text
    assert "top = " in text and "front, rear, left, right = " in text
    assert "e_f = 20\N{NO-BREAK SPACE}mm" in text


def test_the_lowest_cold_unfolds_by_its_formula_where_all_faces_look_outside(answer: Frost) -> None:
    assert answer.numbers["frost.fresh.holds_parked"].formula == ""  # several neighbours: told by its pieces
    alone = frost(frosty()).numbers["frost.fresh.holds_parked"]
    assert alone.formula == "T_h − s P / UA"


def test_the_duty_unfolds_to_what_the_tank_needs(answer: Frost) -> None:
    text = "\n".join(answer.numbers["frost.fresh.duty_parked"].lines())
    assert "P_h / (s P)" in text and "max(UA (T_h − T_o), 0)" in text and "Σ U A" in text


def test_every_sum_can_be_read_in_both_units(answer: Frost) -> None:
    for key, number in answer.numbers.items():
        assert number.lines() and number.lines(us=True), key
        assert number.source or number.given, key
