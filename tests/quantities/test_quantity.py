"""The quantity itself: bounds, display, round trip, and what pydantic makes of it."""

from __future__ import annotations

import math
from typing import Annotated

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from pydantic import BaseModel, ValidationError

from vanwater.quantities import (
    ANGLE,
    BORE,
    MASS,
    PRESSURE,
    QUANTITIES,
    SETTING,
    SHARE,
    STAY,
    TEMPERATURE,
    THICKNESS,
    VOLUME,
    Bore,
    Quantity,
    QuantityError,
    Share,
    Temperature,
    Unit,
    Volume,
)

TEN = 9.95
"""What is told as ten."""

NO_BREAK, THIN = "\N{NO-BREAK SPACE}", "\N{NARROW NO-BREAK SPACE}"


class Tank(BaseModel):
    """A small model as a plan would declare it."""

    capacity: Volume
    outlet: Bore | None = None
    warm: Temperature | None = None
    fill: Share = 1.0
    narrow: Annotated[float, VOLUME.within("5 L", "400 L")] = 0.1


FILE = {"file": True}


def _problem(error: ValidationError) -> tuple[str, dict[str, str]]:
    (only,) = error.errors()
    return str(only["msg"]), only["ctx"]


def test_a_file_gives_texts_with_units() -> None:
    tank = Tank.model_validate({"capacity": "75 L", "outlet": "1/2 in", "warm": "38 °C", "fill": "90 %"}, context=FILE)
    assert tank.capacity == pytest.approx(0.075)
    assert tank.outlet == pytest.approx(0.0127)
    assert tank.warm == pytest.approx(311.15)
    assert tank.fill == pytest.approx(0.9)
    assert type(tank.capacity) is float


@pytest.mark.parametrize("bare", [0.075, 75, np.float64(0.075), np.float32(0.075)])
def test_a_bare_number_in_a_file_is_refused(bare: object) -> None:
    with pytest.raises(ValidationError) as caught:
        Tank.model_validate({"capacity": bare}, context=FILE)
    message, context = _problem(caught.value)
    assert "has no unit" in message or "is no volume" in message
    assert context["expected"] == 'a volume such as "75 L"'


def test_a_bare_number_in_a_file_is_read_where_there_is_no_unit() -> None:
    assert Tank.model_validate({"capacity": "75 L", "fill": 0.9}, context=FILE).fill == 0.9
    with pytest.raises(ValidationError) as caught:
        Tank.model_validate({"capacity": "75 L", "fill": 90}, context=FILE)
    assert _problem(caught.value)[1]["slip"] == 'Did you mean "90 %"?'


@pytest.mark.parametrize("context", [None, {}, {"file": False}])
@pytest.mark.parametrize("value", [0.075, np.float64(0.075), "75 L"])
def test_python_gives_floats_in_si_or_texts(value: object, context: dict[str, object] | None) -> None:
    assert Tank.model_validate({"capacity": value}, context=context).capacity == pytest.approx(0.075)


@pytest.mark.parametrize("value", [75, -0.001, math.nan, math.inf, -math.inf, 10**400, True, None, b"75 L", [0.075]])
def test_python_numbers_are_bounded_too(value: object) -> None:
    with pytest.raises(ValidationError) as caught:
        Tank.model_validate({"capacity": value})
    (problem,) = caught.value.errors()
    assert problem["type"] == "quantity"
    assert problem["loc"] == ("capacity",)


def test_narrower_bounds_hold_for_their_field_only() -> None:
    assert Tank(capacity=1e-3, narrow=5e-3).narrow == 5e-3
    for outside in ("4 L", "401 L"):
        with pytest.raises(ValidationError) as caught:
            Tank.model_validate({"capacity": "4 L", "narrow": outside}, context=FILE)
        assert _problem(caught.value)[1]["expected"] == f"5{NO_BREAK}L to 400{NO_BREAK}L"


def test_bounds_in_the_wrong_order_or_unreadable_are_refused() -> None:
    with pytest.raises(QuantityError, match="lies above"):
        VOLUME.within("400 L", "5 L")
    with pytest.raises(QuantityError, match="has no unit"):
        VOLUME.within("5", "400 L")


def test_a_rounding_error_beyond_a_bound_is_trimmed() -> None:
    assert SHARE.bounded(1.0 + 1e-12) == 1.0
    assert VOLUME.bounded(-1e-12) == 0.0
    with pytest.raises(QuantityError, match="not believable"):
        SHARE.bounded(1.0 + 1e-6)


@given(st.sampled_from(QUANTITIES), st.floats(allow_nan=True, allow_infinity=True))
def test_bounded_lets_only_believable_values_through(quantity: Quantity, value: float) -> None:
    slack = 1e-9 * max(abs(quantity.low), abs(quantity.high))
    if math.isfinite(value) and quantity.low - slack <= value <= quantity.high + slack:
        assert quantity.bounded(value) == pytest.approx(value, abs=1.001 * slack)
        assert quantity.low <= quantity.bounded(value) <= quantity.high
    else:
        with pytest.raises(QuantityError):
            quantity.bounded(value)


@given(st.sampled_from(QUANTITIES), st.booleans(), st.data())
def test_written_text_reads_back(quantity: Quantity, us: bool, data: st.DataObject) -> None:
    value = data.draw(st.floats(quantity.low, quantity.high))
    text = quantity.written(value, us)
    scale = abs(quantity.spellings[quantity.unit(us)].offset)
    assert quantity.read(text) == pytest.approx(value, rel=1e-9, abs=1e-9 * scale + 1e-300)


@given(st.sampled_from(QUANTITIES), st.booleans(), st.data())
def test_shown_text_reads_back_to_three_digits(quantity: Quantity, us: bool, data: st.DataObject) -> None:
    unit = quantity.spellings[quantity.unit(us)]
    low, high = float(unit.from_si(quantity.low)), float(unit.from_si(quantity.high))
    shown = data.draw(st.floats(low, high).filter(lambda number: number == 0 or 1e-5 < abs(number) < 1e14))
    text = quantity.text(float(unit.to_si(shown)), us)
    nearest = quantity.nothing / unit.factor if quantity.places is None else 0.5
    if quantity.unit(us) in quantity.steps:
        nearest = 0.5 * quantity.steps[quantity.unit(us)][abs(shown) < TEN]
    try:
        again = unit.from_si(quantity.read(text))
    except QuantityError as error:  # rounding carried it over a bound
        assert "not believable" in error.message
        assert min(abs(shown - low), abs(shown - high)) <= max(0.006 * abs(shown), nearest)
    else:
        assert again == pytest.approx(shown, rel=0.0 if quantity.places is not None else 0.00501, abs=nearest + 1e-9)


@pytest.mark.parametrize("quantity", QUANTITIES, ids=lambda quantity: quantity.name)
def test_show_takes_arrays(quantity: Quantity) -> None:
    values = np.linspace(quantity.low, quantity.high, 7)
    for us in (False, True):
        shown = np.asarray(quantity.show(values, us))
        assert shown.shape == (7,)
        assert np.all(np.diff(shown) > 0)
        assert float(shown[3]) == pytest.approx(float(quantity.show(float(values[3]), us)))


@given(st.floats(-1e6, 1e6), st.floats(1e-9, 1e9), st.floats(-1e3, 1e3))
def test_a_unit_is_a_straight_line_both_ways(number: float, factor: float, offset: float) -> None:
    unit = Unit(factor, offset)
    assert unit.from_si(unit.to_si(number)) == pytest.approx(number, rel=1e-9, abs=1e-9 * (1 + abs(offset) / factor))


def test_texts_for_people() -> None:
    assert VOLUME.text(0.075) == f"75{NO_BREAK}L"
    assert VOLUME.text(0.075, us=True) == f"19.8{NO_BREAK}gal"
    assert VOLUME.text(1.2346) == f"1{THIN}230{NO_BREAK}L"
    assert VOLUME.text(1.2346, digits=4) == f"1{THIN}235{NO_BREAK}L"
    assert PRESSURE.text(240000.0, us=True) == f"34.8{NO_BREAK}psi"
    assert TEMPERATURE.text(261.15) == f"\N{MINUS SIGN}12{NO_BREAK}°C"
    assert TEMPERATURE.text(261.15, us=True) == f"10{NO_BREAK}°F"
    assert BORE.text(0.0127, us=True) == f"1/2{NO_BREAK}in"
    assert VOLUME.number(0.0123456) == "12.3"
    assert VOLUME.text(math.nan) == f"not known{NO_BREAK}L"


def test_a_temperature_is_told_to_the_degree_never_by_its_digits() -> None:
    assert TEMPERATURE.text(313.39, us=True, digits=1) == f"104{NO_BREAK}°F"
    assert TEMPERATURE.text(313.15 + 2.0 / 9.0, us=True, digits=2) == f"104{NO_BREAK}°F"
    assert TEMPERATURE.text(313.39, digits=4) == f"40.2{NO_BREAK}°C"
    assert TEMPERATURE.text(272.95) == f"0{NO_BREAK}°C"


def test_next_to_no_pressure_is_none() -> None:
    for tiny in (3e-11, -0.07, 0.9):
        assert PRESSURE.text(tiny, us=True) == f"0{NO_BREAK}psi"
    assert PRESSURE.text(20.0) == f"0.0002{NO_BREAK}bar"


def test_little_water_is_told_in_small_units() -> None:
    assert VOLUME.text(0.09e-3) == f"90{NO_BREAK}mL"
    assert VOLUME.text(0.1e-3) == f"0.1{NO_BREAK}L"
    assert VOLUME.text(0.0, us=True) == f"0{NO_BREAK}gal"
    assert VOLUME.text(0.3e-3, us=True, digits=2) == f"10{NO_BREAK}fl oz"


def test_one_day_is_no_plural() -> None:
    assert STAY.text(86400.0) == f"1{NO_BREAK}day"
    assert STAY.text(86400.0 * 1.0001) == f"1{NO_BREAK}day"
    assert STAY.text(86400.0 * 1.5) == f"1.5{NO_BREAK}days"
    assert STAY.text(0.0) == f"0{NO_BREAK}days"
    assert STAY.read("1 day") == STAY.read("1 days") == 86400.0


def test_a_quantity_without_unit_is_written_bare() -> None:
    ratio = next(quantity for quantity in QUANTITIES if quantity.name == "ratio")
    assert ratio.text(1.5) == "1.5"
    assert ratio.written(1.5) == "1.5"


def test_the_article_fits_the_name() -> None:
    for quantity in QUANTITIES:
        article = "an " if quantity.name[0] in "aeio" else "a "
        assert quantity.expected == f'{article}{quantity.name} such as "{quantity.example}"'


@pytest.mark.parametrize(
    ("quantity", "value", "metric", "us"),
    [
        (MASS, 70.4, "70 kg", "155 lb"),
        (MASS, 1690.4, "1 690 kg", "3 727 lb"),
        (MASS, 1.1567, "1.2 kg", "2.6 lb"),
        (MASS, -15.56, "−16 kg", "−34 lb"),
        (MASS, 9.97, "10 kg", "22 lb"),
        (STAY, 0.52 * 86400.0, "0.5 days", "0.5 days"),
        (STAY, 25.3 * 86400.0, "25 days", "25 days"),
        (SETTING, 0.904e5, "0.9 bar", "13 psi"),
        (SETTING, 0.843e5, "0.85 bar", "12 psi"),
        (THICKNESS, 0.0127, "12.7 mm", "1/2 in"),
        (THICKNESS, 1.5 * 0.0254, "38.1 mm", "1 1/2 in"),
        (THICKNESS, 0.02, "20 mm", "0.787 in"),
        (BORE, 0.0254, "25.4 mm", "1 in"),
        (VOLUME, 0.25 * 3.785411784e-3, "0.946 L", "32 fl oz"),
    ],
)
def test_nothing_is_told_finer_than_it_is_read_or_sold(quantity: Quantity, value: float, metric: str, us: str) -> None:
    told = [quantity.text(value, system, digits=4 if quantity is MASS else 3) for system in (False, True)]
    assert [text.replace(NO_BREAK, " ").replace(THIN, " ") for text in told] == [metric, us]


def test_two_masses_that_read_alike_are_told_apart() -> None:
    assert MASS.text(70.4, digits=5) == f"70.4{NO_BREAK}kg"
    assert MASS.text(70.41, digits=6) == f"70.41{NO_BREAK}kg"


def test_a_degree_of_angle_stands_close_to_its_number() -> None:
    assert ANGLE.text(math.radians(1.0)) == "1°"
    assert ANGLE.read(ANGLE.text(math.radians(1.0))) == pytest.approx(math.radians(1.0))
