"""What two plans say differently."""

from __future__ import annotations

from tests.examples import example
from vanwater.options.altered import altered

FAMILY = example("family-winter")


def test_what_was_changed_and_nothing_else_is_told() -> None:
    values = {
        "tanks.grey.length": "1.1 m",
        "accumulators.accumulator": None,
        "heaters.heater.source": "diesel",
        "loads.dog": {"mass": "30 kg", "x": "2 m"},
        "runs.trunk.fittings.cartridge filter": 1,
    }
    assert altered(FAMILY, FAMILY.changed(values)) == values
    assert altered(FAMILY, FAMILY) == {}


def test_the_same_length_in_another_unit_is_no_change() -> None:
    assert altered(FAMILY, FAMILY.changed({"tanks.grey.length": "80 cm", "van.name": "other"})) == {}


def test_other_habits_are_one_change_and_not_every_use_of_theirs() -> None:
    assert altered(FAMILY, FAMILY.changed({"household.habits": "careful"})) == {"household.habits": "careful"}
    stocked = FAMILY.changed(
        {"accumulators.accumulator": {"at": "tee", "precharge": "1.1 bar", "stock": "accumulator 2 L"}}
    )
    assert altered(FAMILY, stocked)["accumulators.accumulator.stock"] == "accumulator 2 L"


def test_a_use_of_the_ready_habits_is_changed_and_not_new() -> None:
    more = FAMILY.changed({"uses.teeth.a_day": "5 a day"})
    assert altered(FAMILY, more) == {"uses.teeth.a_day": "5 a day"}
    assert altered(more, FAMILY) == {"uses.teeth.a_day": None}
    assert altered(FAMILY, FAMILY.changed({"battery": None, "inverter": None, "heaters.heater.source": "gas",
                                           "heaters.heater.volts": None, "appliances": {}, "cables": {}})).keys() == {
        "battery", "inverter", "heaters.heater.source", "heaters.heater.volts", "appliances.hob",
        "cables.inverter cable", "cables.pump cable",
    }  # fmt: skip


def test_with_the_values_put_in_the_plan_is_the_other() -> None:
    other = FAMILY.changed({"tanks.grey.length": "1.1 m", "accumulators.accumulator": None, "frost.hold": "6 °C"})
    assert FAMILY.changed(altered(FAMILY, other)) == other
