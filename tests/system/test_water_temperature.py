"""How warm the water is: limits, pad, monotone in the air, whichever tank a way draws from."""

from __future__ import annotations

from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from scipy.integrate import quad

from tests.answers.frosty import DAY, ZERO, frosty
from tests.examples import example
from vanwater.physics.cooling import temperature_after
from vanwater.plan.model import Plan
from vanwater.system.batch import Batch, Row
from vanwater.system.water_temperature import (
    NEARLY,
    STAY,
    at_outlet,
    cold_water,
    inlet,
    kept,
    tank_of_heater,
    tank_of_outlet,
    tank_water,
    water_temperature,
)
from vanwater.system.ways import way_from_mains, way_to

FAMILY, TOURING = example("family-winter"), example("touring-campsites")


def of(plan: Plan, *rows: Row) -> list[float]:
    """The fresh tank's water along the rows, in °C."""
    return (water_temperature(Batch(plan, rows), "fresh") - ZERO).tolist()


def open_air(**changes: Any) -> Plan:
    """The small van filled at 10 °C, without a pad."""
    return frosty(**{"pads__pad": None, "site__cold_water": "10 °C"} | changes)


def test_without_a_cold_or_sides_it_is_as_filled_and_its_own_temperature_wins() -> None:
    assert of(open_air(frost__design_cold=None, frost__mean_cold=None)) == pytest.approx([10.0])
    bare = open_air(tanks__fresh={"holds": "fresh", "capacity": "70 L"})
    assert tank_water(Batch(bare), "fresh") is None
    assert of(bare) == pytest.approx([10.0])
    assert of(open_air(tanks__fresh__temperature="7 °C")) == pytest.approx([7.0])
    assert water_temperature(Batch(open_air()), "") == pytest.approx(ZERO + 10)


def test_a_long_stay_brings_it_to_rest_and_a_short_one_leaves_it_as_filled() -> None:
    warm = {"frost__design_cold": "2 °C", "frost__mean_cold": "3 °C"}
    days = (0.5, 1.0, 3.0, 10.0, 120.0)
    along = [of(open_air(household__days_wanted=f"{day} days", **warm))[0] for day in days]
    assert along == sorted(along, reverse=True)
    water = tank_water(Batch(open_air(household__days_wanted="120 days", **warm)), "fresh")
    assert water is not None
    assert water.rest == pytest.approx(ZERO + 3)
    assert along[-1] == pytest.approx(3.0, abs=0.1)
    large = {"tanks__fresh__length": "3 m", "tanks__fresh__foam": "300 mm", "tanks__fresh__height": "1 m"}
    assert of(open_air(household__days_wanted="0.5 days", **warm, **large))[0] == pytest.approx(10.0, abs=0.1)


def test_no_days_wanted_is_a_long_weekend() -> None:
    assert STAY == 3 * DAY
    assert of(open_air()) == of(open_air(household__days_wanted="3 days"))


@pytest.mark.parametrize("pad", [None, "60 W", "5 W"])
def test_it_is_the_mean_of_the_lump_over_the_stay(pad: str | None) -> None:
    """Second method: the exact step, no lower than what the pad holds, integrated by scipy."""
    plan = open_air() if pad is None else open_air(pads__pad={"tank": "fresh", "power": pad, "net_share": "75 %"})
    water = tank_water(Batch(plan), "fresh")
    assert water is not None

    def at(seconds: float) -> float:
        lump = temperature_after(water.start[0], seconds, water.rest[0], water.through[0], water.mass[0])
        return max(float(lump), float(water.held[0]))

    judged = quad(at, 0.0, STAY, epsrel=1e-9, limit=400)[0] / STAY
    assert water.mean[0] == pytest.approx(judged, abs=1e-4)
    assert water.mass[0] == pytest.approx(0.5 * 72)


def test_a_pad_holds_what_is_set_or_what_its_heat_sustains() -> None:
    def held(**changes: Any) -> float:
        water = tank_water(Batch(open_air(**changes)), "fresh")
        assert water is not None
        return float(water.held[0] - ZERO)

    strong = {"tank": "fresh", "power": "60 W"}
    assert held(pads__pad=strong) == pytest.approx(4.0)
    assert held(pads__pad=strong, frost__hold="6 °C") == pytest.approx(6.0)
    assert held() == 0.0
    water = tank_water(Batch(open_air(pads__pad=strong | {"power": "12 W", "net_share": "100 %"})), "fresh")
    assert water is not None
    assert 0.0 < water.held[0] - ZERO < 4.0
    assert water.held[0] == pytest.approx(water.rest[0] + 12.0 / water.through[0])
    engine = strong | {"fed": "engine"}
    assert held(pads__pad=engine) == 0.0
    assert held(pads__pad=engine, day__driving="24 h") == pytest.approx(4.0)
    assert not kept(open_air(pads__pad=engine), "fresh")
    shore = strong | {"fed": "shore"}
    assert held(pads__pad=shore) == 0.0 and not kept(open_air(pads__pad=shore), "fresh")
    assert held(pads__pad=shore, day__shore="20 h") == pytest.approx(4.0)
    assert kept(open_air(pads__pad=shore, day__shore="20 h"), "fresh")
    assert kept(open_air(pads__pad=strong), "fresh") and not kept(open_air(), "fresh")


def test_warmer_air_warmer_water_in_both_directions() -> None:
    air = np.arange(-30.0, 39.0, 3.0)
    for plan in (open_air(), open_air(pads__pad={"tank": "fresh", "power": "20 W"})):
        rows = [Row(f"{t} °C", {"frost.mean_cold": ZERO + t}) for t in air]
        along = of(plan, *rows)[1:]
        assert all(colder <= warmer + 1e-9 for colder, warmer in pairwise(along))
        assert along[0] < 10.0 < along[-1] < 36.0


def test_it_follows_the_unsure_rows_that_a_batch_carries() -> None:
    factors = {"windy": {"wind": 2.0}, "leaky": {"foam": 1.25}, "weak pad": {"pad share": 0.5}}
    rows = [Row(key, factors=factor) for key, factor in factors.items()]
    likely, windy, leaky, weak = of(open_air(pads__pad={"tank": "fresh", "power": "20 W"}), *rows)
    assert windy < likely and leaky < likely and weak <= likely
    assert of(open_air(frost__design_cold=None, frost__mean_cold=None), *rows) == pytest.approx([10.0] * 4)


def test_a_way_draws_from_its_tank_and_the_mains_come_as_filled() -> None:
    cold = TOURING.changed({"tanks.fresh.temperature": "5 °C"})
    batch = Batch(cold)
    for outlet in cold.outlets:
        assert cold_water(batch, way_to(cold, outlet)) == pytest.approx(ZERO + 5)
        assert at_outlet(batch, outlet) == pytest.approx(ZERO + 5)
        assert cold_water(batch, way_from_mains(cold, outlet)) == pytest.approx(cold.site.cold_water)
    assert tank_of_outlet(cold, None) == tank_of_outlet(cold, next(iter(cold.outlets))) == "fresh"
    assert tank_of_outlet(Plan.of({"van": {"name": "no tank"}, "household": {"people": 1}}), None) == ""


def test_a_heater_is_fed_by_the_tank_of_its_way() -> None:
    assert tank_of_heater(FAMILY, "heater") == "fresh"
    batch = Batch(FAMILY)
    assert inlet(batch, "heater") == pytest.approx(water_temperature(batch, "fresh"))
    hot = Batch(FAMILY.changed({"tanks.fresh.temperature": "38 °C", "heaters.heater.set_point": "35 °C"}))
    assert inlet(hot, "heater") == pytest.approx(ZERO + 35 - NEARLY)
