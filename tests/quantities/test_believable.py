"""Values from Python that no van has: named, once, with the likely slip."""

from __future__ import annotations

import math
import pickle
import warnings
from inspect import signature

import numpy as np
import pytest

from vanwater.quantities import BORE, Array, Bore, Flow, Length, Pressure, Ratio, Real, Share, Speed
from vanwater.quantities.believable import OutOfRangeWarning, believed, quantity_of


def hose(
    bore: Bore[Real], flow: Flow[Real] = 1e-4, times: Ratio[Real] = 1.0, full: Share[Real] | None = None, name: str = ""
) -> Length[Array]:
    """A hose."""
    return np.asarray(bore) * flow * times


FACE = believed(hose)


def warned(*args: object, **given: object) -> list[str]:
    with warnings.catch_warnings(record=True) as told:
        warnings.simplefilter("always")
        believed(hose)(*args, **given)  # type: ignore[arg-type]
    assert all(warning.category is OutOfRangeWarning for warning in told)
    return [str(warning.message) for warning in told]


def test_a_slip_of_units_is_told_with_function_argument_value_range_and_what_was_meant() -> None:
    assert warned(12) == [
        "hose: bore = 12 m is not believable in a van, where it is 1\xa0mm to 150\xa0mm. "
        "Did you mean 12 mm, which is 0.012 m?"
    ]
    assert warned(bore=12) == warned(12) == warned(np.float64(12.0)) == warned([12.0])
    assert warned(0.012, 6.0)[0].endswith("Did you mean 6 L/min, which is 0.0001 m³/s?")
    assert warned(0.012, full=85.0) == [
        "hose: full = 85 is not believable in a van, where it is 0\xa0% to 100\xa0%. Did you mean 85 %, which is 0.85?"
    ]


def test_of_many_values_the_first_beyond_is_shown_and_the_others_counted() -> None:
    assert warned(np.array([0.01, 12.0, 15.0, 9.0]))[0].startswith("hose: bore = 12 m (and 2 more) is not believable")
    assert len(warned(12.0, 6.0)) == 2


def test_what_is_believable_or_has_a_meaning_of_its_own_is_not_told() -> None:
    assert warned(0.001) == warned(0.15 * (1 + 1e-12)) == []
    assert len(warned(0.15 * (1 + 1e-6))) == 1
    assert warned(0.01, -1e-4) == [], "a flow may run backwards"
    assert len(warned(0.01, -6.0)) == 1
    assert warned(-0.01) != [], "a bore may not"
    assert warned(np.array([math.nan, math.inf]), math.inf) == []
    assert warned(0.01, 1e-4, 1e9) == [], "a ratio is no slip of units"
    assert warned(0.01, full=None, name="x") == []


def test_a_line_is_told_once_and_another_line_again() -> None:
    face = believed(hose)
    with warnings.catch_warnings(record=True) as told:
        warnings.simplefilter("always")
        for bore in (12, 13, 14):
            face(bore)
        assert len(told) == 1
        assert told[0].filename == __file__
        face(12)
        assert len(told) == 2


def test_as_an_error_it_is_told_each_time() -> None:
    for _ in range(2):
        with pytest.raises(OutOfRangeWarning, match="Did you mean 12 mm"):
            FACE(12)


def test_the_function_stays_what_it_was() -> None:
    assert FACE(0.01, 2e-4) == hose(0.01, 2e-4)
    assert signature(FACE) == signature(hose)
    assert (FACE.__name__, FACE.__doc__) == ("hose", "A hose.")
    assert pickle.loads(pickle.dumps(OutOfRangeWarning("x"))).args == ("x",)
    with pytest.raises(TypeError, match="missing 1 required"):
        FACE()  # type: ignore[call-arg]


def test_an_argument_can_be_left_out() -> None:
    def surge(wave: Speed[Real], pressure: Pressure[Real]) -> None: ...

    with pytest.raises(OutOfRangeWarning, match="pressure"):
        believed(surge, but=frozenset({"wave"}))(1200.0, 1e9)
    with pytest.raises(OutOfRangeWarning, match="wave"):
        believed(surge)(1200.0, 1e5)


def test_the_quantity_is_found_inside_unions() -> None:
    assert quantity_of(Bore[Real] | None) is BORE
    assert quantity_of(float) is None
