"""A band is the number's own range with the instrument's uncertainty, by root-sum-square."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from vanwater.answers.core.band import NONE, Band, Tolerance, band_of, instrument_of, instrument_said
from vanwater.answers.core.number import Number
from vanwater.answers.core.working import stated
from vanwater.quantities import FLOW, PRESSURE, TEMPERATURE, Quantity, QuantityError


def number(value: float, quantity: Quantity, ends: tuple[float, float] | None = None) -> Number:
    return stated("it", value, quantity, "Given.", source="common practice").keyed("it", bracket=ends, exact="given")


def ends(band: Band | None) -> tuple[float, float]:
    assert band is not None and band.low is not None and band.high is not None
    return band.low.likely, band.high.likely


def test_range_and_instrument_are_put_together_each_side_for_itself() -> None:
    flow = number(10e-5, FLOW, (7e-5, 14e-5))
    band = band_of(flow, Tolerance(share=0.9), instrument_said(flow, 1e-4, "2.4 L/min"))  # 4e-5 m³/s
    assert ends(band) == pytest.approx((5e-5, 10e-5 + math.sqrt(32) * 1e-5))


def test_a_number_without_a_range_has_the_trades_tolerance() -> None:
    cut_out = number(2.6e5, PRESSURE)
    gauge = instrument_said(cut_out, 2.6e5, "0.15 bar")
    assert ends(band_of(cut_out, Tolerance(by=2e4), gauge)) == pytest.approx((2.35e5, 2.85e5))
    assert ends(band_of(cut_out, NONE, gauge)) == pytest.approx((2.45e5, 2.75e5))


def test_the_ends_of_a_wide_band_are_told_to_two_digits_and_those_of_a_narrow_one_to_three() -> None:
    flow = number(1e-4, FLOW)
    wide, narrow = (band_of(flow, Tolerance(share=share), instrument_said(flow, 1e-4, "1 %")) for share in (0.2, 0.05))
    assert wide is not None and wide.told.text().replace("\N{NO-BREAK SPACE}", " ") == "4.8 L/min to 7.2 L/min"
    assert narrow is not None and narrow.told.text().replace("\N{NO-BREAK SPACE}", " ") == "5.69 L/min to 6.31 L/min"


@pytest.mark.parametrize(("side", "within", "outside"), (("at most", 0.0, "above"), ("at least", 3e5, "below")))
def test_a_limit_is_not_widened_by_an_instrument(side: str, within: float, outside: str) -> None:
    limit = number(1e5, PRESSURE)
    band = band_of(limit, Tolerance(side=side), instrument_of(limit, 1e5))  # type: ignore[arg-type]
    assert band is not None and band.told.text() == f"{side} 1 bar".replace(" bar", "\N{NO-BREAK SPACE}bar")
    assert band.side(within) == "" and band.side(1e5) == "" and band.side(2e5 - within) == outside


@settings(max_examples=30)
@given(st.floats(1e-6, 1e-3), st.floats(0, 1), st.floats(0, 1), st.floats(0, 1e-4), st.floats(0, 1e-4))
def test_a_band_holds_the_range_and_grows_with_the_instrument(
    likely: float, below: float, above: float, off: float, more: float
) -> None:
    flow = number(likely, FLOW, (likely * (1 - below), likely * (1 + above)))
    coarse, fine = (
        ends(band_of(flow, NONE, instrument_said(flow, likely, f"{uncertain:.12f} m³/s")))
        for uncertain in (off + more, off)
    )
    slack = 1e-9 * likely
    assert coarse[0] <= fine[0] + slack and fine[1] <= coarse[1] + slack
    assert 0.0 <= fine[0] <= likely * (1 - below) + slack and likely * (1 + above) <= fine[1] + slack


def test_what_is_not_known_has_no_band() -> None:
    for each in (number(math.nan, FLOW), number(math.inf, FLOW), number(1e-4, FLOW, (math.nan, 2e-4))):
        assert band_of(each, NONE, instrument_of(number(1e-4, FLOW), 1e-4)) is None


def test_an_uncertainty_is_a_difference_or_a_share() -> None:
    warm = number(313.15, TEMPERATURE)
    assert instrument_said(warm, 313.15, "2 K").likely == pytest.approx(2.0)
    assert instrument_said(number(1e-4, FLOW), 2e-4, "5 %").likely == pytest.approx(1e-5)
    with pytest.raises(QuantityError, match="does not start with a number"):
        instrument_said(warm, 313.15, "fine")
