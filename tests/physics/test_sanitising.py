import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from vanwater.physics.sanitising import (
    FULL_TANK,
    METHODS,
    RETURN_TO_SERVICE,
    TWO_STEPS,
    US_MAXIMUM,
    WALLS,
    changes,
    contact_time,
    flush_mixed,
    flush_plug,
)

VOLUMES = st.floats(1e-3, 1.0)
HIGH = st.floats(10e-3, 0.3)


def test_what_must_be_left_decides_the_full_tank_and_only_the_bottom_gets_fifty():
    (full,) = FULL_TANK.stands
    assert (full.part, full.start, full.left, full.time / 3600) == (1.0, None, 10e-3, 24.0)
    bottom, filled = TWO_STEPS.stands
    assert (bottom.part, bottom.start, bottom.time / 3600) == (0.05, 50e-3, 6.0)
    assert (filled.part, filled.start, filled.left, filled.time / 3600) == (1.0, None, 2e-3, 24.0)
    assert (
        bottom.part * bottom.start > filled.left
    )  # the bottom's chlorine is enough for the full tank, if none is lost


def test_every_way_says_its_source_what_of_it_was_read_and_one_level_a_stand():
    assert METHODS == (FULL_TANK, WALLS, TWO_STEPS)
    for method in METHODS:
        assert method.source and "seen" in method.basis
        assert all((stand.start is None) != (stand.left is None) and stand.time > 0 for stand in method.stands)
    assert US_MAXIMUM < RETURN_TO_SERVICE < WALLS.stands[0].start


@given(HIGH, HIGH, st.floats(600.0, 1e5))
def test_contact_keeps_the_product(level, known, time):
    assert float(contact_time(level, known, time)) * level == pytest.approx(known * time)
    assert float(contact_time(known, known, time)) == pytest.approx(time)


def test_mixed_flush_against_a_tank_followed_through_time():
    volume, flow = 76e-3, 1e-4
    took = float(flush_mixed(volume, 50e-3, 5e-3, 0.4e-3)) / flow
    followed = solve_ivp(lambda _, level: flow / volume * (0.4e-3 - level), (0.0, took), [50e-3], rtol=1e-9, atol=1e-12)
    assert followed.y[0, -1] == pytest.approx(5e-3, rel=1e-6)


@given(VOLUMES, HIGH)
def test_the_plug_takes_no_more_than_the_mixed_tank_from_e_times_the_limit(volume, level):
    mixed, plug = float(flush_mixed(volume, level)), float(flush_plug(volume, level))
    assert plug == volume
    assert (mixed >= plug) == (level >= np.e * RETURN_TO_SERVICE)


@given(st.floats(0.01, 0.8), HIGH, st.floats(0.0, 1e-3))
def test_that_many_changes_are_enough_and_one_fewer_is_not(left, level, supplied):
    count = int(changes(left, level, RETURN_TO_SERVICE, supplied))
    levels = [level]
    for _ in range(count):
        levels.append(levels[-1] * left + supplied * (1 - left))
    assert levels[-1] <= RETURN_TO_SERVICE * (1 + 1e-6)
    assert levels[-2] > RETURN_TO_SERVICE * (1 - 1e-6)


@given(VOLUMES, st.floats(0.0, 5e-3), st.floats(0.0, 0.9))
def test_water_that_is_low_enough_needs_nothing(volume, level, left):
    assert float(flush_mixed(volume, level)) == float(flush_plug(volume, level)) == float(changes(left, level)) == 0.0


def test_a_tank_that_drains_dry_takes_one_change():
    assert changes(np.array([0.0, 0.1, 0.5]), 50e-3).tolist() == [1.0, 1.0, 4.0]


@pytest.mark.parametrize(
    ("name", "call"),
    [
        ("level", lambda: contact_time(0.0, 50e-3, 3600.0)),
        ("known_time", lambda: contact_time(50e-3, 50e-3, -1.0)),
        ("supplied", lambda: flush_mixed(0.08, 50e-3, 5e-3, 5e-3)),
        ("volume", lambda: flush_mixed(-0.08, 50e-3)),
        ("volume", lambda: flush_plug(-0.08, 50e-3)),
        ("left", lambda: changes(1.0, 50e-3)),
        ("left", lambda: changes(float("nan"), 50e-3)),
    ],
)
def test_what_cannot_be_is_refused(name, call):
    with pytest.raises(ValueError, match=name):
        call()
