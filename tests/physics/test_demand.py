import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from vanwater.physics.demand import (
    daily_grey,
    daily_volume,
    days,
    event_volume,
    hot_share,
    hot_volume,
    hot_wait,
    run_off,
)
from vanwater.physics.vessel import run_content

DAY = 86400.0
VANS = json.loads((Path(__file__).parents[2] / "data" / "validation" / "worked_vans.json").read_text(encoding="utf-8"))
SCENARIOS = {scenario["id"]: scenario for scenario in VANS["scenarios"]}
KELVIN = st.floats(274.0, 300.0)


def expected(scenario, quantity):
    return next(row for row in scenario["expected"] if row["quantity"] == quantity)


def worked_days(scenario):
    given = scenario["inputs"]
    leg = given["supply"]["hot_leg"]
    content = run_content(leg["bore_mm"] * 1e-3, leg["length_m"])
    fresh = grey = 0.0
    for use in given["uses"].values():
        events = use["events_a_day"] / DAY
        own = daily_volume(use["litres"] * 1e-3, events, 1.0)
        waiting = daily_volume(run_off(content, 1.0), events, 1.0) if use.get("run_off") else 0.0
        fresh += own + waiting
        grey += daily_grey(own, use["grey_share"], waiting)
    flow = expected(scenario, "shower flow at the handset, mixed, alone")["value"] * 1e-3 / 60
    return {
        "fresh water used": float(fresh) * 1e3 * DAY,
        "grey water made": float(grey) * 1e3 * DAY,
        "days, fresh": float(days(given["tanks"]["fresh_usable_L"] * 1e-3, fresh)) / DAY,
        "days, grey": float(days(given["tanks"]["grey_usable_L"] * 1e-3, grey)) / DAY,
        "hot run content, heater to mixing tap": float(content) * 1e3,
        "wait for hot at the mixing tap, plug flow, hot only at the full shower flow": float(
            hot_wait(content, 1.0, flow)
        ),
    }


@pytest.mark.parametrize("name", ["S1", "S3"])
@pytest.mark.parametrize("quantity", list(worked_days(SCENARIOS["S1"])))
def test_worked_van_uses_and_days(name, quantity):
    judge = expected(SCENARIOS[name], quantity)
    assert worked_days(SCENARIOS[name])[quantity] == pytest.approx(judge["value"], rel=1e-3)
    assert judge["tolerance_kind"] == "rel" and judge["tolerance"] >= 1e-3


def test_the_urine_container_of_the_dry_toilet():
    tanks = SCENARIOS["S3"]["inputs"]["tanks"]
    a_day = daily_volume(tanks["urine_L_person_day"] * 1e-3, 1.0 / DAY, SCENARIOS["S3"]["inputs"]["people"])
    judge = expected(SCENARIOS["S3"], "days, urine container")["value"]
    assert float(days(tanks["urine_L"] * 1e-3, a_day)) / DAY == pytest.approx(judge, rel=1e-9)


@given(KELVIN, st.floats(1.0, 70.0), st.floats(0.0, 1.0))
def test_mixing_at_the_share_gives_the_temperature_back(cold, warmer, share):
    hot = cold + warmer
    mixed = share * hot + (1.0 - share) * cold
    assert float(hot_share(mixed, hot, cold)) == pytest.approx(share, abs=1e-9)
    assert float(hot_volume(8e-3, mixed, hot, cold)) == pytest.approx(8e-3 * share, abs=1e-12)


@given(KELVIN, st.floats(1.0, 70.0), st.floats(0.1, 30.0))
def test_wanted_hotter_or_colder_than_there_is(cold, warmer, beyond):
    hot = cold + warmer
    assert float(hot_share(hot + beyond, hot, cold)) == 1.0
    assert float(hot_share(cold - beyond, hot, cold)) == 0.0


@given(st.floats(1e-5, 2e-4), st.floats(1.0, 900.0), st.floats(0.1, 20.0), st.floats(1.0, 6.0))
def test_a_tank_of_so_many_events_lasts_so_many_days(flow, duration, a_day, persons):
    each = event_volume(flow, duration)
    per_day = daily_volume(each, a_day / DAY, persons)
    assert float(days(7.0 * a_day * persons * each, per_day)) == pytest.approx(7.0 * DAY)


@given(st.floats(0.0, 1e-6), st.floats(0.0, 1.0), st.floats(0.0, 1e-7))
def test_grey_never_exceeds_what_was_drawn(own, share, waiting):
    assert float(daily_grey(own, share, waiting)) <= own + waiting


@given(st.floats(1e-5, 1e-3), st.floats(1.0, 1.6), st.floats(1e-6, 2e-4))
def test_the_wait_runs_off_the_run_off(content, factor, flow):
    assert float(hot_wait(content, factor, flow)) * flow == pytest.approx(float(run_off(content, factor)))


def test_nothing_moves_nothing_ends():
    assert float(days(0.05, 0.0)) == float("inf")
    assert float(days(0.05, -1e-7)) == float("inf")
    assert float(hot_wait(1e-4, 1.2, 0.0)) == float("inf")


def test_impossible_water_is_refused():
    with pytest.raises(ValueError, match="hot"):
        hot_share(300.0, 290.0, 290.0)
    with pytest.raises(ValueError, match="factor"):
        run_off(1e-4, 0.8)


def test_a_draw_next_to_nothing_lasts_for_ever():
    assert float(days(0.09, 5e-324)) == float("inf")
