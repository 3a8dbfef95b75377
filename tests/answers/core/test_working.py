from __future__ import annotations

import enum
import math
from dataclasses import dataclass

import numpy as np
import pytest

from vanwater.answers.core.number import Number
from vanwater.answers.core.pieces import Piece
from vanwater.answers.core.statement import Amount, Say, harmless
from vanwater.answers.core.working import stated, step
from vanwater.physics.cycling import starts_at_draw
from vanwater.physics.pump import PumpCurve
from vanwater.physics.switching import ElasticStorage, Switch
from vanwater.quantities import (
    ABSOLUTE_PRESSURE,
    FLOW,
    PRESSURE,
    RATIO,
    SPEED,
    VOLUME,
    AbsolutePressure,
    Area,
    Array,
    Bore,
    Flow,
    Pressure,
    Ratio,
    Real,
    Speed,
    Temperature,
)


class Way(enum.Enum):
    OVER_THE_TOP = 1


def bore_area(bore: Bore[Real]) -> Area[Array]:
    """Clear area of a round bore.

    Formula: π D²/4

    Parameters
    ----------
    bore : float or array
        Inner diameter, D [m].

    Returns
    -------
    array
        Area [m²].

    References
    ----------
    Euclid, Elements, book XII, from memory.
    """
    return np.asarray(math.pi * np.asarray(bore) ** 2 / 4)


def speed(
    flow: Flow[Real],
    area: Area[Real],
    factor: Ratio[Real] = 1.0,
    way: Way | None = None,
    loud: bool = False,
) -> Speed[Array]:
    """Mean speed in a run.

    Formula: v = c Q/A

    Parameters
    ----------
    flow : float or array
        Flow, Q [m³/s].
    area : float or array
        Clear area, A [m²].
    factor : float or array
        A factor, c [-].
    way : Way, optional
        How it runs.
    loud : bool
        Whether it is heard.

    Returns
    -------
    array
        Speed [m/s].

    Notes
    -----
    Full bore.
    """
    return np.asarray(np.asarray(factor) * flow / area)


def warmed(
    pressure: AbsolutePressure[Real], cold: Temperature[Real], warm: Temperature[Real]
) -> AbsolutePressure[Array]:
    """Pressure of an enclosed gas after a change of temperature.

    Formula: p T₂/T₁

    Parameters
    ----------
    pressure : float or array
        Pressure before, absolute, p [Pa].
    cold : float or array
        Temperature before, T₁ [K].
    warm : float or array
        Temperature after, T₂ [K].

    Returns
    -------
    array
        Pressure after, absolute [Pa].
    """
    return np.asarray(np.asarray(pressure) * warm / cold)


@dataclass(frozen=True)
class Point:
    """A point.

    Parameters
    ----------
    flow : array
        Flow at the point [m³/s].
    pressure : array
        Pressure at the point [Pa].
    """

    flow: Flow[Array]
    pressure: Pressure[Array]


def held(pressure: Pressure[Real]) -> Pressure[Array]:
    """A pressure that is held.

    Parameters
    ----------
    pressure : float or array
        Pressure [Pa].

    Returns
    -------
    array
        The same [Pa].
    """
    return np.asarray(pressure)


def reach(flows: Flow[Array], pressures: Pressure[Array], at: Pressure[Real]) -> Point:
    """The flow that a curve gives at a pressure.

    Parameters
    ----------
    flows : array
        Points of the curve [m³/s].
    pressures : array
        Their pressures [Pa].
    at : float or array
        Where it is wanted [Pa].

    Returns
    -------
    Point
        The point.
    """
    return Point(np.interp(at, pressures, flows), np.asarray(at))


def spaced(lines: list[str]) -> list[str]:
    return [line.replace("\N{NO-BREAK SPACE}", " ") for line in lines]


def hose() -> Number:
    area = step("area of the hose", bore_area, bore=np.array([0.01, 0.0125]))
    return step("speed in the hose", speed, flow=1e-4, area=area)


def test_a_step_has_the_numbers_of_the_function_for_all_rows():
    one = hose()
    assert np.array_equal(one.values, speed(1e-4, bore_area(np.array([0.01, 0.0125]))))
    assert one.result == Amount(float(one.value), SPEED)


def test_a_step_has_formula_meaning_source_and_note_of_the_function():
    one = hose()
    assert (one.name, one.meaning, one.formula) == ("speed in the hose", "Mean speed in a run.", "v = c Q/A")
    assert (one.note, one.source) == ("Full bore.", "")
    inner = one.given[1].value
    assert isinstance(inner, Number)
    assert inner.source == "Euclid, Elements, book XII, from memory."


def test_what_was_put_in_is_kept_in_words_with_symbols_and_defaults():
    flow, area, factor, loud = hose().given
    assert flow == Piece("flow", Amount(1e-4, FLOW), "Q", "Flow")
    assert (area.symbol, area.meaning) == ("A", "Clear area")
    assert factor == Piece("factor", Amount(1.0, RATIO), "c", "A factor")
    assert (loud.name, loud.value) == ("loud", "no")


def test_the_sum_unfolds_as_a_tree():
    assert spaced(hose().lines()) == [
        "speed in the hose = 1.27 m/s",
        "  Mean speed in a run.",
        "  v = c Q/A",
        "  Q = 6 L/min  Flow",
        "  A (area of the hose) = 0.0000785 m²",
        "    Clear area of a round bore.",
        "    π D²/4",
        "    D = 10 mm  Inner diameter",
        "    Source: Euclid, Elements, book XII, from memory.",
        "  c = 1  A factor",
        "  loud = no  Whether it is heard",
        "  Note: Full bore.",
    ]


def test_the_tree_can_be_cut_and_read_in_us_units():
    lines = spaced(hose().lines(us=True, depth=1))
    assert "  A (area of the hose) = 0.000845 ft²" in lines
    assert not any("Euclid" in line for line in lines)
    assert spaced(hose().lines(us=True, depth=0)) == ["speed in the hose = 4.18 ft/s"]


def test_a_step_used_twice_is_unfolded_once():
    area = step("area", bore_area, bore=0.01)
    first = step("first", speed, flow=1e-4, area=area)
    both = stated("both", 2 * first.value, SPEED, "Added.", parts=[("a", first), ("b", first)])
    lines = both.lines()
    assert sum("worked out above" in line for line in lines) == 1
    assert sum("π D²/4" in line for line in lines) == 1
    assert [(depth, one.name) for depth, one in both.walk()] == [(0, "both"), (1, "first"), (2, "area")]


def test_a_formula_is_explained_where_it_stands_first():
    thin, wide = step("thin", bore_area, bore=0.01), step("wide", bore_area, bore=0.02)
    both = stated("both", thin.value + wide.value, thin.quantity, "Added.", parts=[("a", thin), ("b", wide)])
    lines = both.lines()
    assert [line.strip() for line in lines if "π D²/4" in line] == ["π D²/4", "π D²/4 (as above)"]
    assert sum("Source: Euclid" in line for line in lines) == 1
    assert [line.strip() for line in spaced(lines) if "D = " in line] == ["D = 10 mm  Inner diameter", "D = 20 mm"]


def test_sums_one_after_the_other_tell_where_they_stand():
    area = step("area", bore_area, bore=0.01)
    seen = {}
    assert area.lines(seen=seen, under="1") == area.lines()
    assert area.lines(seen=seen, under="2") == [f"{area.lines()[0]} (as in 1)"]


def test_nested_steps_give_the_closed_result():
    """By hand: (1.30 + 1.01325) · 263.15/293.15 − 1.01325 = 1.063 bar above the air."""
    filled = Amount(1.30e5 + 101325, ABSOLUTE_PRESSURE)
    cold = step("pre-charge at −10 °C", warmed, pressure=filled, cold=293.15, warm=263.15)
    again = step("and back", warmed, pressure=cold, cold=263.15, warm=293.15)
    assert cold.value - 101325 == pytest.approx(1.063e5, abs=50)
    assert again.value == pytest.approx(1.30e5 + 101325)


def test_a_field_of_a_dataclass_is_taken():
    flows, pressures = np.array([0.0, 1e-4]), np.array([0.0, 2e5])
    one = step("flow", reach, flows=flows, pressures=pressures, at=np.array([1e5, 5e4]), take="flow")
    assert one.result == Amount(5e-5, FLOW)
    assert one.values.tolist() == [5e-5, 2.5e-5]
    assert one.meaning == "Flow at the point"
    with pytest.raises(ValueError, match="take"):
        step("flow", reach, flows=flows, pressures=pressures, at=1e5)


def test_a_whole_curve_is_shown_by_its_ends():
    one = step("flow", reach, flows=np.array([0.0, 1e-4]), pressures=np.array([0.0, 2e5]), at=1e5, take="pressure")
    assert isinstance(one.given[0].value, Say)
    assert spaced([one.given[1].value.text()]) == ["0 bar to 2 bar in 2 values"]
    assert one.given[2].value == Amount(1e5, PRESSURE)


def test_a_record_is_shown_by_what_it_holds_in_either_system():
    curve = PumpCurve(
        flow=np.array([[0.0, 2e-4], [0.0, 1e-4]]), rise=np.array([3e5, 0.0]), voltage=12.0, rated_voltage=12
    )
    tank = ElasticStorage(volume=1e-3, precharge=1e5, beside=(ElasticStorage(volume=2e-3, precharge=1.2e5),))
    one = step("starts", starts_at_draw, draw=1e-5, switch=Switch(1.4e5, np.array([2.6e5, 2e5]), curve), storage=tank)
    switch, storage = spaced([each.value.text() for each in one.given[1:]])
    assert switch == (
        "cut in 1.4 bar, cut out 2.6 bar, curve flow 0 L/min to 12 L/min in 2 values, "
        "rise 0 bar to 3 bar in 2 values, voltage 12 V, rated voltage 12 V"
    )
    assert storage.startswith("volume 1 L, precharge 1 bar, atmosphere 1.01 bar, compliance 0 mL/bar, exponent 1, ")
    assert ", beside volume 2 L, precharge 1.2 bar, " in storage
    assert "cut in 20.3 psi" in spaced([one.given[1].value.text(True)])[0]


def test_several_numbers_in_the_first_row_are_shown_by_their_ends():
    one = step("speeds", speed, flow=np.array([[1e-4, 2e-4], [9.0, 9.0]]), area=1e-4)
    assert spaced([one.result.text()]) == ["1 m/s to 2 m/s in 2 values"]


def test_several_numbers_that_are_told_alike_are_told_once():
    alike = step("speeds", speed, flow=np.array([[1e-4, 1.00001e-4], [9.0, 9.0]]), area=1e-4)
    assert spaced([alike.result.text()]) == ["1 m/s in each of 2 values"]
    assert spaced([alike.given[0].value.text()]) == ["6 L/min"]
    ends = step("speeds", speed, flow=np.array([[1e-4, 2e-4], [9.0, 9.0]]), area=1e-4).given[0].value.text()
    assert spaced([ends]) == ["6 L/min to 12 L/min in 2 values"]


def test_a_choice_is_shown_in_words():
    given = {piece.name: piece.value for piece in step("v", speed, flow=1.0, area=1.0, way=Way.OVER_THE_TOP).given}
    assert given["way"] == "over the top"


def test_later_changes_of_an_array_do_not_change_a_step():
    pressure = np.array([1e5, 2e5])
    one = step("p", held, pressure=pressure)
    pressure[0] = 5.0
    assert one.given[0].value == Amount(1e5, PRESSURE)
    assert one.value == 1e5


def test_a_misspelt_argument_is_an_error():
    with pytest.raises(TypeError, match="flaw"):
        step("v", speed, flaw=1.0, area=1.0)


def test_a_plans_text_in_names_is_made_harmless():
    one = step("speed at <b>", speed, flow=1.0, area=1.0)
    whole = stated("x", 1.0, SPEED, "m", facts=[("<i>", "<u>")])
    lines = [*one.lines(escape=harmless("html")), *whole.lines(escape=harmless("html"))]
    assert not any("<" in line for line in lines)
    assert "  &lt;i&gt; = &lt;u&gt;" in lines


# --- numbers without a closed formula -----------------------------------------------------------------


def test_pieces_that_add_up_are_shown_with_what_is_left_unbalanced():
    budget = stated(
        "pressure of the pump",
        2.4e5,
        PRESSURE,
        "Newton on the whole network.",
        parts=[("handset", (1.9e5, PRESSURE)), ("hose", (0.5e5, PRESSURE))],
        residual=(1e-9, FLOW),
        facts=[("sets solved", "62")],
        source="common practice",
    )
    assert spaced(budget.lines()) == [
        "pressure of the pump = 2.4 bar",
        "  Newton on the whole network.",
        "  handset = 1.9 bar",
        "  hose = 0.5 bar",
        "  sets solved = 62",
        "  left unbalanced = 0.00006 L/min",
        "  Source: common practice",
    ]
    assert budget.value == 2.4e5


def test_pieces_that_do_not_add_up_are_refused():
    parts = [("handset", (1.9e5, PRESSURE)), ("hose", (0.4e5, PRESSURE))]
    with pytest.raises(ValueError, match="add up to 230000, not to the result 240000"):
        _ = stated("p", 2.4e5, PRESSURE, "m", parts=parts).made_of
    assert stated("p", 2.4e5, PRESSURE, "m", parts=parts, residual=(1.01e4, PRESSURE)).given
    with pytest.raises(ValueError, match="add up"):
        _ = stated("p", 2.4e5, PRESSURE, "m", parts=parts, residual=(1.01e4, FLOW)).made_of


def test_pieces_of_another_quantity_are_refused():
    with pytest.raises(ValueError, match="another quantity"):
        _ = stated("p", 1.0, PRESSURE, "m", parts=[("flow", (1.0, FLOW))]).made_of


def test_a_simulation_shows_range_and_all_rows():
    days = stated("volume", np.array([0.02, 0.03]), VOLUME, "Median of 2000 trips.").keyed("v", bracket=(0.01, 0.03))
    assert days.values.tolist() == [0.02, 0.03]
    assert spaced(days.lines()) == ["volume = 20 L (10 to 30)", "  Median of 2000 trips."]
