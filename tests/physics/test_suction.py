import pytest
from hypothesis import given
from hypothesis import strategies as st

from vanwater.physics import water
from vanwater.physics.atmosphere import air_pressure
from vanwater.physics.suction import VALVE_OPENING, dry_lift, npsh_available, permissible_lift, rated_lift_needed

LIFTS = st.floats(-1.0, 5.0)
LOSSES = st.floats(0.0, 5e4)


@given(LIFTS, LOSSES, st.floats(7e4, 1.02e5), st.floats(600.0, 2e4))
def test_lifting_as_high_as_permitted_leaves_just_the_head_required(required, loss, air, vapour):
    lift = permissible_lift(air, vapour, 998.0, loss, required)
    assert float(npsh_available(air, vapour, 998.0, -lift, loss)) == pytest.approx(required, abs=1e-9)


def chamber(air, dead, opening, strokes=4000):
    """Lift of a pump that is followed stroke by stroke: Boyle's law in its chamber and in the line before it.

    The air of the dead volume thins as the chamber grows; the inlet valve opens while the line's air stands above it by
    the opening pressure, and what flows over leaves the line. Water rises in the line as its air thins.
    """
    stroke, line = 1.0, 20.0
    before = air
    for _ in range(strokes):
        thinned = air * dead / (dead + stroke)
        if before - thinned <= opening:
            break
        # chamber and line share their air until they differ by the opening pressure alone
        before = (before * line + air * dead + opening * (dead + stroke)) / (line + dead + stroke)
    return (air - before) / (998.0 * 9.80665)


@pytest.mark.parametrize("air", [89874.6, 79495.2, 70108.5, 54048.3])
@pytest.mark.parametrize("dead", [0.5, 2.0, 4.0])
def test_dry_lift_is_that_of_a_pump_followed_stroke_by_stroke(air, dead):
    """Pressures by ISO 2533 at 1000, 2000, 3000 and 5000 m."""
    rated = chamber(101325.0, dead, VALVE_OPENING)
    assert float(dry_lift(rated, air, 998.0)) == pytest.approx(chamber(air, dead, VALVE_OPENING), abs=2e-3)


def test_dry_lift_by_hand_from_the_table_of_the_standard_atmosphere():
    """ISO 2533: 0.887 of the pressure at sea level at 1000 m, 0.7846 at 2000 m, 0.6919 at 3000 m."""
    column = 3000.0 / (1000.0 * 9.80665)
    for share, altitude in ((0.88699, 1000.0), (0.78456, 2000.0), (0.69192, 3000.0)):
        by_hand = (1.8 + column) * share - column
        assert float(dry_lift(1.8, air_pressure(altitude), 1000.0, 3000.0)) == pytest.approx(by_hand, abs=2e-4)


@given(st.floats(0.0, 5.0), st.floats(5e4, 1.1e5), st.floats(0.0, 1e4), st.floats(0.0, 1e4))
def test_a_pump_rated_as_needed_lifts_just_that_high(lift, air, own, line):
    rated = rated_lift_needed(lift, air, 998.0, own, line)
    assert float(dry_lift(rated, air, 998.0, own, line)) == pytest.approx(lift, abs=1e-9) or float(rated) == 0.0


@given(st.floats(0.0, 5.0), st.floats(5e4, 1.0e5), st.floats(1.0, 1e3))
def test_thinner_air_and_stiffer_valves_lift_less(rated, air, more):
    here = dry_lift(rated, air, 998.0)
    assert dry_lift(rated, air + more, 998.0) > here
    assert dry_lift(rated, air, 998.0, line_opening=more) < here
    assert float(dry_lift(rated, 101325.0, 998.0)) == pytest.approx(rated)


@pytest.mark.parametrize(
    ("call", "name"),
    [
        (lambda: dry_lift(-0.1, 1e5, 998.0), "rated_lift"),
        (lambda: dry_lift(1.0, 0.0, 998.0), "surface_pressure"),
        (lambda: dry_lift(1.0, 1e5, -1.0), "density"),
        (lambda: dry_lift(1.0, 1e5, 998.0, -1.0), "valve_opening"),
        (lambda: rated_lift_needed(1.0, 1e5, 998.0, 0.0, -1.0), "line_opening"),
    ],
)
def test_impossible_numbers_are_named(call, name):
    with pytest.raises(ValueError, match=rf"^{name} is "):
        call()


def test_head_above_boiling_by_the_tables():
    """ISO 2533 at 3000 m: 70108.5 Pa; steam tables (IAPWS) at 20 °C: 2339.3 Pa and 998.2 kg/m³; 1.5 m of lift."""
    by_hand = (70108.5 - 2339.3 - 4000.0) / (998.2 * 9.80665) - 1.5
    air, vapour, density = air_pressure(3000.0), water.vapour_pressure(293.15), water.density(293.15)
    assert float(npsh_available(air, vapour, density, -1.5, 4000.0)) == pytest.approx(by_hand, abs=2e-3)


@given(LOSSES, st.floats(7e4, 1.02e5))
def test_a_tank_above_the_pump_helps(loss, air):
    above = npsh_available(air, 1403.0, 999.5, 0.5, loss)
    below = npsh_available(air, 1403.0, 999.5, -0.5, loss)
    assert float(above - below) == pytest.approx(1.0)
