from __future__ import annotations

import pytest

from tests.examples import example
from vanwater.plan.tables import outlets, pipes
from vanwater.system.batch import Batch
from vanwater.system.remedies import next_size, way_remedies
from vanwater.system.supply import outlet_numbers
from vanwater.system.ways import way_to

FAMILY = example("family-winter")
LONG = example("long-stay-dry-toilet")


def kinds(name: str) -> dict[str, str]:
    plan = {"family": FAMILY, "long": LONG}[name]
    return {remedy.row.key: remedy.kind for remedy in way_remedies(plan, way_to(plan, "shower"))}


def test_next_size_stays_in_its_family() -> None:
    assert next_size("pvc hose 8 mm").key == "pvc hose 10 mm"  # type: ignore[union-attr]
    assert next_size("pvc hose 19 mm") is None
    for row in pipes().values():
        larger = next_size(row.key)
        assert larger is None or (larger.bore > row.bore and larger.material == row.material)


def test_every_kind_of_remedy_is_offered_where_it_applies() -> None:
    assert kinds("family")["sweep bends to shower"] == "bends"
    assert kinds("family")["wider handset hose"] == "wider"
    assert kinds("long")["no filter trunk"] == "filter"
    assert kinds("long")["clean suction"] == "clean"
    assert "volts pump" not in kinds("long")  # its volts are above those of the curve


def test_a_thicker_cable_brings_no_more_volts_than_the_battery_has() -> None:
    def volts(**at: str) -> list[float | str]:
        plan = FAMILY.changed({f"pumps.pump.{field}": value for field, value in at.items()})
        return [one.then for one in way_remedies(plan, way_to(plan, "shower")) if one.kind == "volts"]

    assert FAMILY.at("battery.volts") == 12.8
    assert volts() == []  # the curve is one at 13.6 V, and 12.7 V of 12.8 V are there
    assert volts(volts="12.2 V") == [12.8]
    assert volts(volts="11.6 V", curve_volts="12 V") == [12.0]
    assert volts(volts="12.375 V", curve_volts="12.5 V") == []  # one part in a hundred is not worth a cable
    assert volts(volts="12.37 V", curve_volts="12.5 V") == [12.5]


def test_bends_replace_as_many_elbows() -> None:
    remedy = next(one for one in way_remedies(FAMILY, way_to(FAMILY, "shower")) if one.kind == "bends")
    for address, fittings in remedy.row.values.items():
        assert sum(fittings.values()) == sum(FAMILY.at(address).values())
        assert not any("elbow" in kind for kind in fittings)


@pytest.mark.parametrize(("kind", "regulated"), [("regulated tap", True), ("house tap", False)])
def test_a_sparing_outlet_gives_a_third_less_at_its_own_pressure_and_stays_what_it_is(
    kind: str, regulated: bool
) -> None:
    plan = FAMILY.changed({"outlets.galley tap.type": kind})
    (sparing,) = (remedy for remedy in way_remedies(plan, way_to(plan, "shower")) if remedy.kind == "sparing")
    assert sparing.piece == "galley tap"
    numbers = outlet_numbers(Batch(plan, [sparing.row]), "galley tap")
    assert numbers["regulated"].tolist() == [regulated, regulated]
    assert numbers["at"][1] == numbers["at"][0]
    assert numbers["flow"][1] == pytest.approx(numbers["flow"][0] * 2 / 3)
    assert (sparing.now, sparing.then) == (outlets()[kind].flow, numbers["flow"][1])


def test_an_outlet_of_ones_own_that_holds_its_flow_holds_the_smaller_one_too() -> None:
    own = {"type": None, "flow": "6 L/min", "at": "1.5 bar", "regulated": True}
    plan = FAMILY.changed({f"outlets.galley tap.{name}": value for name, value in own.items()})
    (sparing,) = (remedy for remedy in way_remedies(plan, way_to(plan, "shower")) if remedy.kind == "sparing")
    assert outlet_numbers(Batch(plan, [sparing.row]), "galley tap")["regulated"].tolist() == [1.0, 1.0]


def test_only_outlets_that_are_open_too_are_made_sparing() -> None:
    assert not [remedy for remedy in way_remedies(FAMILY, way_to(FAMILY, "basin tap")) if remedy.kind == "sparing"]
