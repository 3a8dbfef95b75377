from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given

from tests.drawn import WHOLE_PLANS
from tests.examples import NAMES, example
from tests.strategies import plans
from tests.walk import walk
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.key import key_text
from vanwater.answers.core.number import Number
from vanwater.answers.hot_water.answer import hot_water
from vanwater.answers.hot_water.charge import at_once, lasting
from vanwater.answers.hot_water.heater import heater_answer
from vanwater.plan.model import Plan
from vanwater.system.batch import Batch, Row, carries
from vanwater.system.hot_water_demand import HotWaterUse

FAMILY = example("family-winter").changed(
    {
        "tanks.fresh.temperature": "10 °C",
        "cables": {},
        "inverter.cable": "98 %",
        "heaters.heater.left_hot": False,
        "battery.chemistry": None,
    }
)
"""Its water at 10 °C, and no cable, cell or cooling of its own, so that sums by hand stay short."""
WEEKEND = example("weekend-cans")


def number(key: str, changes: dict[str, object] | None = None) -> float:
    return hot_water(FAMILY.changed(changes or {}, si=True)).numbers[key].likely


def found(plan: Plan, key: str) -> Finding:
    return next(finding for finding in hot_water(plan).findings if finding.key == f"hot_water.heater.{key}")


def test_shower_energy_closes_with_its_parts() -> None:
    parts = number("use.shower.heat.heater") + number("use.shower.run_off_heat.heater")
    assert number("use.shower.battery_energy.heater") * 0.91 * 0.98 == pytest.approx(parts, rel=1e-12)
    told = "\n".join(hot_water(FAMILY).numbers["use.shower.battery_energy.heater"].lines())
    assert "heat left in the hot pipe each time" in told


def test_bracket_meets_the_heat_in_the_tank() -> None:
    low, high = number("heater.heater.charge.mixed"), number("heater.heater.charge.plug")
    assert low < high
    # plug flow carries all the heat above cold out at the mixed temperature
    per_litre = number("use.shower.heat.heater") / (6.5e-3 / 60 * 80)
    assert high * per_litre == pytest.approx(number("heater.heater.recovery_heat"), rel=0.01)


def test_hotter_larger_and_warmer_water_give_more() -> None:
    key = "heater.heater.charge.plug"
    base, warm = number(key), {"tanks.fresh.temperature": 273.15 + 20}
    assert number(key, {"heaters.heater.set_point": 273.15 + 70}) > base
    assert number(key, {"heaters.heater.volume": 0.015}) == pytest.approx(1.5 * base)
    assert number(key, warm) > base
    assert number("heater.heater.recovery", warm) < number("heater.heater.recovery")


def test_the_likely_litres_of_a_charge_lie_between_both_ends_and_lead() -> None:
    answer = hot_water(FAMILY)
    likely, mixed, plug = (answer.numbers[f"heater.heater.charge.{end}"] for end in ("likely", "mixed", "plug"))
    assert likely.range == (mixed.likely, plug.likely)
    assert mixed.likely < likely.likely < plug.likely
    assert likely.influences[0].address == "stirring"
    assert answer.verdict.text().startswith(
        "One charge of the heater makes 15\xa0L (8 to 18) of mixed water at 38\xa0°C."
    )


def test_showers_in_a_row_and_the_wait_for_the_next() -> None:
    count, wait = "heater.heater.in_a_row", "heater.heater.wait"
    answer = hot_water(FAMILY)
    assert answer.numbers[count].likely == 1
    assert answer.numbers[count].range == (1, 2)
    assert 60.0 < answer.numbers[wait].likely < answer.numbers["heater.heater.recovery"].likely
    assert number(wait, {"heaters.heater.power": 1300.0}) < answer.numbers[wait].likely
    assert number(count, {"heaters.heater.volume": 0.03}) > 3


@pytest.mark.parametrize(
    ("key", "changes", "verdict"),
    [
        ("current", {}, Verdict.FINE),
        ("current", {"battery.max_current": 90.0}, Verdict.FAILS),
        ("current", {"battery.max_current": None}, Verdict.NOT_DECIDED),
        ("inverter", {}, Verdict.FINE),
        ("inverter", {"inverter.rating": 1000.0}, Verdict.FAILS),
        ("inverter", {"inverter.rating": 1300.0}, Verdict.WATCH),
        ("scald", {}, Verdict.FINE),  # 60 °C behind mixing taps, as in a house
        ("scald", {"heaters.heater.set_point": 273.15 + 64.9}, Verdict.FINE),
        ("scald", {"heaters.heater.set_point": 273.15 + 66}, Verdict.WATCH),
        ("scald", {"heaters.heater.set_point": 273.15 + 45}, Verdict.FINE),
        ("hygiene", {}, Verdict.FINE),
        ("hygiene", {"heaters.heater.set_point": 273.15 + 48}, Verdict.FINE),  # drawn through within a day
        ("hygiene", {"heaters.heater.set_point": 273.15 + 48, "heaters.heater.volume": 0.08}, Verdict.WATCH),
        ("empty", {}, Verdict.FINE),
        ("empty", {"heaters.heater.empty_cut_out": False}, Verdict.FAILS),
        ("empty", {"heaters.heater.empty_cut_out": None}, Verdict.NOT_DECIDED),
        ("relief", {}, Verdict.FINE),
        ("relief", {"heaters.heater.relief": 2e5}, Verdict.FAILS),
        ("enough", {"uses.shower.duration": 240.0}, Verdict.FAILS),
        ("enough", {"heaters.heater.volume": 0.03}, Verdict.FINE),
        ("enough", {"uses.shower.duration": 120.0}, Verdict.FINE),  # 13.0 L, within the 13.4 L of a charge stirred far
        ("enough", {"uses.shower.duration": 130.0}, Verdict.WATCH),  # 14.1 L, beyond them
        ("at_once.evening", {"uses.dishes.volume": 6.0e-3}, Verdict.WATCH),
        ("at_once.evening", {"uses.dishes.volume": 9.0e-3}, Verdict.FAILS),
        ("day", {}, Verdict.FINE),
        ("day", {"heaters.heater.hours_on": 1800.0}, Verdict.WATCH),
        ("day", {"uses.shower.a_day": 2 / 86400}, Verdict.WATCH),
    ],
)
def test_finding(key: str, changes: dict[str, object], verdict: Verdict) -> None:
    assert found(FAMILY.changed(changes, si=True), key).verdict is verdict


def test_outlets_that_are_open_together_share_one_charge() -> None:
    """8.7 L of 38 °C and 2.5 L of 45 °C, of which a charge that is stirred far makes 13.4 L."""
    need = number("heater.heater.at_once.evening")
    assert need == pytest.approx(6.5e-3 / 60 * 80 + 2.5e-3 * 35 / 28)
    assert "Open together, the shower and galley tap take as much as 12" in found(FAMILY, "enough").statement.text()
    alone = FAMILY.changed({"together": None})
    assert "heater.heater.at_once.evening" not in hot_water(alone).numbers


def test_a_use_lasts_a_minute_at_least_and_as_a_shower_where_only_its_litres_are_said() -> None:
    one = np.ones(4)
    use = HotWaterUse(
        name="hands",
        volume=one,
        mixed=310.0 * one,
        run_off=0.0 * one,
        duration=np.array([30.0, 60.0, 90.0, np.nan]),
        a_day=one,
    )
    assert lasting(use) == pytest.approx([60.0, 60.0, 90.0, 240.0])


def test_engine_heat_takes_nothing_from_the_battery() -> None:
    answer = hot_water(FAMILY.changed({"heaters.heater.source": "engine"}))
    assert "heater.heater.recovery" in answer.numbers
    assert "use.shower.heat.heater" in answer.numbers
    assert not any("energy" in key or "current" in key or "share" in key for key in answer.numbers)
    assert "from the battery" not in answer.verdict.text()


def test_how_long_water_stays_is_told_and_no_country_rules_all() -> None:
    told = found(FAMILY, "hygiene").statement.text()
    assert "drawn through 1.4 (1.1 to 1.8) times a day" in told and "ouses" not in told


def test_no_heater_is_no_fault() -> None:
    answer = hot_water(WEEKEND)
    assert not answer.decided
    assert answer.findings == ()
    unused = hot_water(FAMILY.changed({"uses": None, "household.habits": None}))
    assert "no use wants warm water" in unused.verdict.text()


def test_a_use_without_water_is_no_shower() -> None:
    plan = example("long-stay-dry-toilet").changed({"uses.shower.volume": 0.0}, si=True)
    served = hot_water(plan).heaters["heater"].served
    assert served is not None and served.name != "shower"


@pytest.mark.parametrize("name", NAMES)
def test_every_number_has_a_key_a_reason_and_a_sum(name: str) -> None:
    plan = example(name)
    assert walk(hot_water(plan)) > (20 if plan.heaters else -1)


@WHOLE_PLANS
@given(plans())
def test_the_same_for_any_plan(raw: dict[str, object]) -> None:
    walk(hot_water(Plan.of(raw, file=True)))


def along(plan: Plan, rows: list[Row]) -> dict[str, Number]:
    """Every number of the family's heater along some rows."""
    batch = Batch(plan, rows)
    answer = heater_answer(batch, "heater")
    served, charge, day = answer.served, answer.charge, answer.day
    assert served is not None and charge is not None and day is not None
    told = [getattr(record, name) for record in (answer, served, charge, day) for name in record.__slots__]
    told += [*charge.ends.values(), *(need for _, need in at_once(batch, "heater", served.name).values())]
    return {key_text(each.key): each for each in told if isinstance(each, Number)}


def test_along_the_rows_it_is_the_changed_plans_own() -> None:
    changes = {
        "heaters.heater.volume": 0.015,
        "heaters.heater.power": 2000.0,
        "heaters.heater.set_point": 338.15,
        "heaters.heater.hours_on": 1800.0,
        "tanks.fresh.temperature": 280.15,
        "uses.shower.duration": 120.0,
        "uses.shower.temperature": 313.15,
        "battery.charge": 500e3,
        "inverter.efficiency": 0.8,
        "household.run_off": 1.6,
    }
    assert carries(FAMILY, changes)
    rows = along(FAMILY, [Row(key, {key: value}) for key, value in changes.items()])
    assert len(rows) == 23
    moved = set()
    for row, (key, value) in enumerate(changes.items(), start=1):
        for name, own in along(FAMILY.changed({key: value}, si=True), []).items():
            assert rows[name].values[row] == pytest.approx(own.likely, rel=1e-12, abs=1e-9), (key, name)
            if own.likely != rows[name].likely:
                moved.add(name)
    assert moved == set(rows)


def test_of_a_battery_that_gives_nothing_no_share_is_told() -> None:
    cold = {"frost.mean_cold": "-55 °C", "frost.design_cold": "-55 °C"}
    frozen = FAMILY.changed({**cold, "battery.chemistry": "flooded", "battery.beside": "outside"})
    shares = [[key for key in hot_water(plan).numbers if "battery_share" in key] for plan in (FAMILY, frozen)]
    assert len(shares[0]) == 2 and shares[1] == []
