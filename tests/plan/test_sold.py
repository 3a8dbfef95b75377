from __future__ import annotations

import pytest

from vanwater.plan.sold import sold
from vanwater.plan.stock import generic
from vanwater.quantities import BORE, PRESSURE, THICKNESS, VOLUME

FOAM = ("1/4 in", "1/2 in", "3/4 in", "1 in", "1 1/2 in", "2 in")


def test_foam_and_hose_are_named_as_they_are_sold() -> None:
    """Sheet foam and sleeves of the United States come in quarters of an inch; elsewhere in whole millimetres."""
    for thickness in (sold(True).foam, sold(True).sleeve):
        assert THICKNESS.text(thickness, us=True).replace("\N{NO-BREAK SPACE}", " ") in FOAM
    assert [BORE.text(bore, us=True).split("\N{NO-BREAK SPACE}")[0] for bore in sold(True).bores] == [
        "1/4", "5/16", "3/8", "1/2", "5/8", "3/4", "1",
    ]  # fmt: skip
    for size in (sold(False).foam, sold(False).sleeve, *sold(False).bores):
        assert 1e3 * size == pytest.approx(round(1e3 * size))


@pytest.mark.parametrize("us", [False, True])
def test_every_size_of_accumulator_is_one_of_the_stock(us: bool) -> None:
    told = [VOLUME.text(size, us).replace("\N{NO-BREAK SPACE}", " ") for size in sold(us).accumulators]
    assert told == (
        ["16 fl oz", "24 fl oz", "32 fl oz", "0.5 gal", "1 gal"] if us else ["0.5 L", "0.75 L", "1 L", "2 L", "5 L"]
    )
    sizes = {VOLUME.read(name.removeprefix("accumulator ")) for name in generic()["accumulators"]}
    assert set(sold(us).accumulators) <= sizes
    for name, part in generic()["accumulators"].items():
        nominal, gas = VOLUME.read(name.removeprefix("accumulator ")), VOLUME.read(part.fields["volume"])
        assert 0.9 * nominal < gas < nominal


def test_steps_are_whole_in_the_units_of_the_gauge() -> None:
    assert PRESSURE.show(sold(True).gauge, us=True) == pytest.approx(1.0)
    assert PRESSURE.show(sold(True).valve, us=True) == pytest.approx(5.0)
    assert PRESSURE.show(sold(False).gauge) == pytest.approx(0.05)


@pytest.mark.parametrize("us", [False, True])
def test_foam_comes_in_rising_thicknesses_among_which_the_remedies_are(us: bool) -> None:
    for sizes, remedy in ((sold(us).sheets, sold(us).foam), (sold(us).sleeves, sold(us).sleeve)):
        assert list(sizes) == sorted(set(sizes)) and remedy in sizes
        step = 25.4e-3 / 8 if us else 1e-3
        assert all(size / step == pytest.approx(round(size / step)) for size in sizes)
