from __future__ import annotations

import pytest

from tests.examples import example
from vanwater.system.batch import Batch, Row
from vanwater.system.path_conditions import (
    SHOWER_TEMPERATURE,
    missing,
    mixed_temperature,
    tank_surface,
    wanted_temperature,
)
from vanwater.system.water_temperature import water_temperature
from vanwater.system.ways import way_to

FAMILY = example("family-winter")


def test_the_surface_is_half_way_up_and_follows_its_row() -> None:
    batch = Batch(FAMILY, [Row("lower", {"tanks.fresh.z": -0.5})])
    assert tank_surface(batch, "fresh").tolist() == pytest.approx([-0.32 + 0.12, -0.5 + 0.12])


def test_water_is_mixed_as_wanted_and_comes_as_it_is_without_a_tap() -> None:
    batch = Batch(FAMILY)
    assert mixed_temperature(batch, way_to(FAMILY, "shower"))[0] == pytest.approx(273.15 + 38)
    assert mixed_temperature(batch, way_to(FAMILY, "basin tap"))[0] == water_temperature(batch, "fresh")[0]


def test_missing_fields_are_named_by_address() -> None:
    plan = FAMILY.changed({"runs.trunk.length": None, "outlets.shower.z": None, "pumps.pump.curve": None})
    assert missing(plan, way_to(plan, "shower")) == ("runs.trunk.length", "pumps.pump.curve", "outlets.shower.z")
    assert missing(FAMILY, way_to(FAMILY, "shower")) == ()


def test_wanted_temperature_falls_back() -> None:
    plan = FAMILY.changed({"outlets.shower.temperature": None})
    assert wanted_temperature(plan, "shower") == pytest.approx(273.15 + 38)
    bare = plan.changed({"uses.shower": {"a_day": "0 a day"}, "household.habits": "careful"})
    assert wanted_temperature(bare, "basin tap") == SHOWER_TEMPERATURE


@pytest.mark.parametrize("order", [("shower", "rinse"), ("rinse", "shower")])
def test_of_several_uses_the_warmest_says_what_is_wanted(order: tuple[str, str]) -> None:
    warmth = {"shower": "41 °C", "rinse": "33 °C"}
    uses = {f"uses.{name}": {"outlet": "shower", "a_day": "1 a day", "temperature": warmth[name]} for name in order}
    rinse = {"duration": "60 s", "flow": "6 L/min"}
    uses = {address: use | rinse for address, use in uses.items()}
    plan = FAMILY.changed({"outlets.shower.temperature": None, "uses.shower": None, **uses})
    assert wanted_temperature(plan, "shower") == pytest.approx(273.15 + 41)
    cooler = plan.changed({"uses.shower.temperature": "30 °C"})
    assert wanted_temperature(cooler, "shower") == pytest.approx(273.15 + 33)
    assert mixed_temperature(Batch(cooler), way_to(cooler, "shower"))[0] == pytest.approx(273.15 + 33)
