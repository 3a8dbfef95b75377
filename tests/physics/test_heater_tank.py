import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from vanwater.physics.cooling import temperature_after
from vanwater.physics.heater import HEAT_OF_WATER, charge_volume, recovery_time
from vanwater.physics.heater_tank import HeaterTank, heater_run

COLD, HOT, MIXED = 285.15, 335.15, 312.15
LITRES = 10e-3


def charge_by_layers(mixing, layers, step_litres=0.05e-3):
    """Litres at the tap until it falls below the temperature wanted, element off."""
    tank = HeaterTank(volume=LITRES, power=0.0, set_point=HOT, mixing=mixing)
    draws = np.full(int(20e-3 / step_litres), step_litres)
    run = heater_run(np.full(layers, HOT), draws, MIXED, COLD, tank, on=False)
    return float(np.argmax(run.tap < MIXED - 1e-6)) * step_litres


@pytest.mark.parametrize("step_litres", [0.02e-3, 0.07e-3, 0.5e-3])
@pytest.mark.parametrize("layers", [2, 3, 10, 20])
def test_without_stirring_it_is_plug_flow_to_one_per_cent(layers, step_litres):
    plug = float(charge_volume(LITRES, COLD, HOT, MIXED, 0.0))
    reached = charge_by_layers(0.0, layers, step_litres)
    assert plug * 0.99 - step_litres <= reached <= plug * (1 + 1e-9)


def test_one_layer_is_fully_mixed_whatever_is_stirred():
    mixed = float(charge_volume(LITRES, COLD, HOT, MIXED, 1.0))
    for mixing in (0.0, 0.4):
        assert charge_by_layers(mixing, 1, 0.02e-3) == pytest.approx(mixed, rel=0.01)


@pytest.mark.parametrize("layers", [20, 40])
@pytest.mark.parametrize("mixing", [0.25, 0.5, 1.0])
def test_the_litres_of_a_charge_are_those_of_the_closed_sum(mixing, layers):
    closed = float(charge_volume(LITRES, COLD, HOT, MIXED, mixing))
    assert charge_by_layers(mixing, layers) == pytest.approx(closed, rel=0.05)


def test_the_layers_lie_in_the_bracket_and_stirring_costs_litres():
    litres = [charge_by_layers(mixing, 20) for mixing in (0.0, 0.25, 0.5, 0.75, 1.0)]
    low, high = (float(charge_volume(LITRES, COLD, HOT, MIXED, mixing)) for mixing in (1.0, 0.0))
    assert all(low * 0.99 <= value <= high * (1 + 1e-9) for value in litres)
    assert np.all(np.diff(litres) < 0)


@pytest.mark.parametrize("layers", [1, 4, 10])
@pytest.mark.parametrize("mixing", [0.0, 0.25, 0.7, 1.0])
def test_what_is_ready_in_a_hot_tank_is_its_charge(mixing, layers):
    tank = HeaterTank(volume=LITRES, power=0.0, set_point=HOT, mixing=mixing)
    run = heater_run(np.full(layers, HOT), np.zeros(1), MIXED, COLD, tank)
    assert run.ready[0] == pytest.approx(float(charge_volume(LITRES, COLD, HOT, MIXED, mixing)), rel=1e-12)


def test_what_is_ready_can_be_drawn_warm():
    tank = HeaterTank(volume=LITRES, power=0.0, set_point=HOT, mixing=0.25)
    before = heater_run(np.full(30, HOT), np.full(20, 0.3e-3), MIXED, COLD, tank, on=False)
    ready = float(before.ready[-1])
    assert 0 < ready < float(charge_volume(LITRES, COLD, HOT, MIXED, 0.25)) - 20 * 0.3e-3 * 0.95
    after = heater_run(before.temperature, np.full(40, ready / 40), MIXED, COLD, tank, on=False)
    assert np.all(after.tap >= MIXED - 2.0)
    assert float(after.ready[-1]) < 0.1 * ready


@pytest.mark.parametrize(
    ("draws", "each", "day"),
    [(23, 0.015, 0.345), (20, 0.105, 2.100)],
    ids=["3XS", "XXS"],
)
def test_a_load_profile_draws_its_reference_energy(draws, each, day):
    """Load profiles 3XS and XXS of Regulations (EU) 812/2013 and 814/2013: count and heat of the draws from memory."""
    steps = 24 * 12
    tank = HeaterTank(volume=LITRES, power=1200.0, set_point=HOT, conductance=0.5, mixing=0.25)
    tapped = np.zeros(steps)
    tapped[84 : 84 + 6 * draws : 6] = each * 3.6e6 / (HEAT_OF_WATER * (MIXED - COLD))  # from 7 h on, every half hour
    run = heater_run(np.full(10, HOT), tapped, MIXED, COLD, tank, 300.0)
    assert np.all(run.tap[tapped > 0] == pytest.approx(MIXED))
    assert float(run.drawn.sum()) == pytest.approx(day * 3.6e6, rel=1e-9)
    stored = HEAT_OF_WATER * LITRES * (float(run.temperature.mean()) - HOT)
    assert float(run.heated.sum()) == pytest.approx(float(run.drawn.sum() + run.lost.sum()) + stored, rel=1e-9)


def test_the_very_small_usage_of_the_united_states_draws_its_heat():
    """10 CFR 430 Subpart B Appendix E, very small usage: ten gallons a day from 58 to 125 °F, 1.63 kWh in the water."""
    gallon, cold, hot = 231 * 0.0254**3, (58 + 459.67) * 5 / 9, (125 + 459.67) * 5 / 9
    gallons = {0: 2.0, 60: 1.0, 65: 0.5, 70: 0.5, 75: 0.5, 480: 1.0, 495: 2.0, 540: 1.5, 555: 1.0}
    tapped = np.zeros(24 * 12)
    tapped[[minute // 5 for minute in gallons]] = np.array(list(gallons.values())) * gallon
    tank = HeaterTank(volume=10 * gallon, power=2000.0, set_point=hot, mixing=0.25)
    run = heater_run(np.full(10, hot), tapped, np.inf, cold, tank, 300.0)
    assert float(run.hot.sum()) == pytest.approx(10.0 * gallon)
    assert float(run.drawn.sum()) == pytest.approx(1.63 * 3.6e6, rel=0.02)  # the store is a little cooler between draws
    assert np.all(run.tap[tapped > 0] > hot - 5.0)


def test_hours_off_are_hours_off_and_steps_may_differ():
    step = np.array([[600.0, 1200.0, 1800.0], [300.0, 300.0, 300.0]])
    on = np.array([True, False, True])
    tank = HeaterTank(volume=LITRES, power=1000.0, set_point=HOT)
    run = heater_run(np.full((2, 4), COLD), np.zeros((2, 3)), np.inf, COLD, tank, step, on)
    np.testing.assert_allclose(run.heated[:, :2], [[600e3, 0.0], [300e3, 0.0]])
    assert np.all(run.heated[:, 2] > 0)
    assert np.all(np.isnan(run.ready))


@st.composite
def runs(draw):
    rows, layers, steps = 3, draw(st.integers(2, 15)), draw(st.integers(1, 20))
    rng = np.random.default_rng(draw(st.integers(0, 2**32 - 1)))
    tank = HeaterTank(
        volume=rng.uniform(2e-3, 30e-3, rows),
        power=rng.uniform(0.0, 3000.0, rows),
        set_point=rng.uniform(310.0, 350.0, rows),
        band=draw(st.floats(0.5, 15.0)),
        conductance=rng.uniform(0.0, 3.0, rows),
        room=draw(st.floats(263.0, 300.0)),
        mixing=rng.choice([0.0, 0.2, 0.7, 1.0], rows),
        element=draw(st.sampled_from([0.0, 0.2, 0.5])),
        sensor=draw(st.sampled_from([0.5, 0.8])),
    )
    start = rng.uniform(275.0, 340.0, (rows, layers))
    draws = rng.uniform(0.0, 8e-3, (rows, steps)) * (rng.uniform(size=(rows, steps)) > 0.4)
    wanted = draw(st.sampled_from([np.inf, 312.15, 300.0]))
    return start, draws, wanted, tank, draw(st.sampled_from([1.0, 30.0, 600.0, 3600.0]))


@given(runs())
@settings(deadline=None, max_examples=40)
def test_energy_balances_to_one_part_in_a_billion(case):
    start, draws, wanted, tank, step = case
    run = heater_run(start, draws, wanted, COLD, tank, step)
    each = np.asarray(tank.volume)[:, None] / start.shape[-1] * HEAT_OF_WATER
    before, after = (np.sum(each * (layers - COLD), axis=-1) for layers in (start, run.temperature))
    balance = before + run.heated.sum(-1) - run.lost.sum(-1) - run.drawn.sum(-1) - after
    assert np.all(np.abs(balance) <= 1e-9 * np.sum(each * start, axis=-1))
    tapped = draws > 0
    at_tap = (run.tap - COLD)[tapped] * draws[tapped] * HEAT_OF_WATER
    np.testing.assert_allclose(at_tap, run.drawn[tapped], rtol=1e-9, atol=1e-6)


@given(runs())
@settings(deadline=None, max_examples=40)
def test_layers_stay_in_order_and_in_bounds(case):
    start, draws, wanted, tank, step = case
    run = heater_run(start, draws, wanted, COLD, tank, step)
    assert np.all(np.diff(run.temperature, axis=-1) >= -1e-6)
    top = np.maximum(start.max(axis=-1), np.maximum(np.asarray(tank.set_point), tank.room))
    assert np.all(run.temperature <= top[:, None] + 1e-6)
    assert run.temperature.min() >= min(start.min(), COLD, tank.room) - 1e-6
    assert np.all((run.hot >= 0) & (run.hot <= draws * (1 + 1e-12)))


@given(runs())
@settings(deadline=None, max_examples=40)
def test_the_mixing_valve_never_gives_hotter_than_wanted(case):
    start, draws, _, tank, step = case
    run = heater_run(start, draws, MIXED, COLD, tank, step)
    tapped = ~np.isnan(run.tap)
    assert np.array_equal(tapped, draws > 0)
    assert np.all(run.tap[tapped] <= MIXED + 1e-6)
    short = run.tap < MIXED - 1e-6
    np.testing.assert_allclose(run.hot[short], draws[short])  # then all of it is hot water


@pytest.mark.parametrize("layers", [1, 5, 20])
def test_recovery_takes_the_closed_time(layers):
    tank = HeaterTank(volume=LITRES, power=1300.0, set_point=HOT, band=5.0, mixing=0.0, element=0.0)
    run = heater_run(np.full(layers, COLD), np.zeros(1800), np.inf, COLD, tank, step=1.0)
    on = float(run.heated.sum()) / 1300.0
    assert on == pytest.approx(float(recovery_time(LITRES, COLD, HOT, 1300.0)), rel=1e-9)
    np.testing.assert_allclose(run.temperature, HOT)
    assert np.count_nonzero(run.heated) == int(np.ceil(on))


def test_a_resting_heater_cools_as_a_lump():
    tank = HeaterTank(volume=LITRES, power=0.0, set_point=HOT, conductance=0.6, room=288.15)
    run = heater_run(np.full(10, HOT), np.zeros(16), np.inf, COLD, tank, step=3600.0)
    judged = float(temperature_after(HOT, 16 * 3600.0, 288.15, 0.6, 10.0))
    np.testing.assert_allclose(run.temperature, judged, rtol=1e-12)


def test_the_thermostat_starts_below_its_band_and_stops_at_the_set_point():
    tank = HeaterTank(
        volume=LITRES, power=1300.0, set_point=HOT, band=6.0, conductance=1.5, room=288.15, element=0.0, sensor=0.0
    )
    run = heater_run(np.full(8, HOT), np.zeros(1440), np.inf, COLD, tank, step=60.0)
    assert float(run.top.max()) <= HOT + 1e-9
    assert HOT - 6.0 - 0.3 < float(run.top.min()) < HOT - 5.7
    starts = np.sum((run.heated[1:] > 0) & (run.heated[:-1] == 0))
    cooling = -10 * 4186.0 / 1.5 * np.log((HOT - 6.0 - 288.15) / (HOT - 288.15))
    assert starts == pytest.approx(1440 * 60 / (cooling + 10 * 4186.0 * 6 / 1300.0), abs=2)


def test_water_below_the_element_stays_cold():
    tank = HeaterTank(volume=LITRES, power=1300.0, set_point=HOT, element=0.3, sensor=0.5, mixing=0.0)
    run = heater_run(np.full(10, COLD), np.zeros(60), np.inf, COLD, tank, step=60.0)
    np.testing.assert_allclose(run.temperature[:3], COLD)
    np.testing.assert_allclose(run.temperature[3:], HOT)


def test_heat_rises_through_colder_water_and_leaves_warmer_alone():
    tank = HeaterTank(volume=LITRES, power=1000.0, set_point=HOT, element=0.0, sensor=0.0)
    start = np.array([285.15, 285.15, 300.15, 330.15])
    run = heater_run(start, np.zeros(1), np.inf, COLD, tank, step=20.0)
    lift = 20e3 / (LITRES / 4 * HEAT_OF_WATER)
    np.testing.assert_allclose(run.temperature, [285.15 + lift / 2, 285.15 + lift / 2, 300.15, 330.15])


def test_an_inversion_turns_over_and_keeps_its_heat():
    tank = HeaterTank(volume=LITRES, power=0.0, set_point=HOT)
    start = np.array([320.0, 290.0, 300.0, 330.0])
    run = heater_run(start, np.zeros(1), np.inf, COLD, tank)
    np.testing.assert_allclose(run.temperature, [910 / 3, 910 / 3, 910 / 3, 330.0])


def test_two_showers_with_the_element_on_take_more_than_the_charge():
    """The second shower of 8 L follows after 20 min; with the element off it is cold."""
    shower, step = np.full(30, 8e-3 / 30), 10.0
    draws = np.concatenate([shower, np.zeros(120), shower])
    tank = HeaterTank(volume=LITRES, power=1300.0, set_point=HOT, mixing=0.3, sensor=0.3)
    warm = [heater_run(np.full(20, HOT), draws, MIXED, COLD, tank, step, on) for on in (True, False)]
    second = [float(np.sum(run.tap[-30:] >= MIXED - 0.5)) / 30 for run in warm]
    assert second[0] == 1.0 and second[1] < 1.0
    assert float(np.sum(warm[0].tap[:30] >= MIXED - 0.5)) == 30


def test_rows_are_worked_alone():
    draws = np.array([[0.0, 2e-3, 1e-3], [3e-3, 0.0, 5e-3]])
    volume = np.array([6e-3, 10e-3])
    rows = heater_run(
        np.full(6, HOT),
        draws,
        MIXED,
        COLD,
        HeaterTank(volume=volume, power=900.0, set_point=HOT, conductance=0.5),
        60.0,
    )
    for row in range(2):
        tank = HeaterTank(volume=float(volume[row]), power=900.0, set_point=HOT, conductance=0.5)
        alone = heater_run(np.full(6, HOT), draws[row], MIXED, COLD, tank, 60.0)
        np.testing.assert_allclose(rows.temperature[row], alone.temperature, rtol=1e-12)
        np.testing.assert_allclose(rows.tap[row], alone.tap, rtol=1e-12)


@pytest.mark.parametrize(
    ("tank", "draws", "message"),
    [
        (HeaterTank(volume=0.0, power=900.0, set_point=HOT), [0.0], "volume"),
        (HeaterTank(volume=LITRES, power=900.0, set_point=HOT, mixing=1.2), [0.0], "mixing"),
        (HeaterTank(volume=LITRES, power=900.0, set_point=HOT, element=0.6, sensor=0.3), [0.0], "element, sensor"),
        (HeaterTank(volume=LITRES, power=900.0, set_point=HOT), [-1e-3], "tapped"),
    ],
)
def test_the_impossible_is_refused_by_name(tank, draws, message):
    with pytest.raises(ValueError, match=message):
        heater_run(np.full(4, HOT), np.array(draws), np.inf, COLD, tank)
