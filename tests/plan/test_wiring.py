"""Tables of conductors and fuses. Judges: printed values of the regulation and of VDE 0298-4, heat lost to the air."""

from __future__ import annotations

import numpy as np
import pytest

from vanwater.plan.electricity import gauge_section
from vanwater.plan.sold import sold
from vanwater.plan.wiring import conductors, fuse_kind, fuse_sizes
from vanwater.quantities import SECTION

ZERO = 273.15
GAUGES = (18, 16, 14, 12, 10, 8, 6, 4, 3, 2, 1, 0, -1, -2, -3)
OUTSIDE = (20, 25, 35, 45, 60, 80, 120, 160, 180, 210, 245, 285, 330, 385, 445)
INSIDE = (17, 21, 30, 38, 51, 68, 102, 136, 153, 178, 208, 242, 280, 327, 378)
"""105 °C outside and inside of engine spaces, as a public page of the trade prints 33 CFR 183.425."""

AT_60 = (10, 15, 20, 25, 40, 55, 80, 105, 120, 140, 165, 195, 225, 260, 300)
AT_80 = (15, 20, 25, 35, 50, 70, 100, 130, 150, 175, 210, 245, 285, 330, 385)
"""60 °C and 80 °C, as another page prints the regulation."""

FREE = {
    0.75: 15, 1: 19, 1.5: 24, 2.5: 32, 4: 42, 6: 54, 10: 73, 16: 98, 25: 129, 35: 158, 50: 198, 70: 245, 95: 292,
    120: 344, 150: 391,
}  # fmt: skip
"""VDE 0298-4, single cores of 70 °C apart from each other in free air at 30 °C, in A, as public pages print it."""


def at(gauge: bool, celsius: float) -> tuple[np.ndarray, float]:
    table = conductors(gauge)
    place = int(np.flatnonzero(np.isclose(table.insulations, celsius + ZERO))[0])
    return table.currents[place], float(table.engine_space[place])


def test_gauges_are_those_of_the_regulation() -> None:
    np.testing.assert_allclose(conductors(True).sections, [gauge_section(gauge) for gauge in GAUGES], rtol=1e-4)
    for celsius, printed in ((105, OUTSIDE), (60, AT_60), (80, AT_80)):
        np.testing.assert_array_equal(at(True, celsius)[0], printed)


def test_the_engine_space_leaves_what_the_trade_prints() -> None:
    currents, left = at(True, 105)
    np.testing.assert_allclose(currents * left, INSIDE, rtol=0.02)  # printed in whole amperes


@pytest.mark.parametrize("gauge", [False, True])
def test_the_engine_space_leaves_what_the_heat_does(gauge: bool) -> None:
    """I² R goes with the warmth above the air: 30 °C outside of engine spaces, 50 °C inside."""
    table = conductors(gauge)
    celsius = table.insulations - ZERO
    heat = np.sqrt((celsius - 50) / (celsius - 30))
    heat[np.isclose(celsius, 85)] = np.sqrt(40 / 60)  # the column is that of 90 °C too
    np.testing.assert_allclose(table.engine_space, heat, atol=0.01)


def test_metric_sizes_stay_near_what_vde_prints_for_free_air() -> None:
    """A thick one at most 9 % above, a thin one down to a third below."""
    table, (currents, _) = conductors(False), at(False, 70)
    np.testing.assert_allclose(table.sections, [size * 1e-6 for size in FREE])
    shares = currents / np.array(list(FREE.values()))
    assert shares.min() > 0.65 and shares.max() < 1.09


@pytest.mark.parametrize("celsius", [60, 105, 125])
def test_metric_sizes_and_gauges_agree(celsius: float) -> None:
    """A gauge between two metric sizes, by the logarithms of both."""
    metric, gauge = conductors(False), conductors(True)
    within = gauge.sections >= 2.5e-6
    between = np.exp(np.interp(np.log(gauge.sections), np.log(metric.sections), np.log(at(False, celsius)[0])))
    low = 0.55 if celsius == 60 else 0.8  # far more is allowed of 60 °C by the regulation
    shares = (between / at(True, celsius)[0])[within]
    assert low < shares.min() and shares.max() < 1.2


@pytest.mark.parametrize("gauge", [False, True])
def test_more_copper_and_better_insulation_never_carry_less(gauge: bool) -> None:
    table = conductors(gauge)
    assert (np.diff(table.sections) > 0).all() and (np.diff(table.insulations) > 0).all()
    assert (np.diff(table.currents, axis=1) > 0).all() or gauge
    assert (np.diff(table.currents, axis=1) >= 0).all() and (np.diff(table.currents, axis=0) >= 0).all()
    assert table.unsaid in table.insulations and len(table.names) == len(table.sections)


@pytest.mark.parametrize("us", [False, True])
def test_every_size_that_is_sold_is_printed(us: bool) -> None:
    table = conductors(us)
    for size, section in sold(us).cables.items():
        place = table.names.index(size)
        assert table.sections[place] == pytest.approx(section, rel=1e-4)
        assert us or table.sections[place] == SECTION.read(size)


def test_fuses_rise_and_each_has_a_kind() -> None:
    sizes = fuse_sizes()
    assert (np.diff(sizes) > 0).all() and sizes[0] == 1.0 and sizes[-1] == 500.0
    assert [fuse_kind(rating) for rating in (7.5, 40.0, 50.0, 100.0, 175.0, 13.0)] == [
        "blade", "blade", "midi", "midi", "mega", "",
    ]  # fmt: skip
    assert all(map(fuse_kind, sizes))
