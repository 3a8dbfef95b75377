from __future__ import annotations

from vanwater.document.undecided import OPEN, TWINS, still_open
from vanwater.plan import address as addresses
from vanwater.plan.model import Plan


def test_the_fields_exist_and_are_empty_while_nothing_is_said():
    for key, fields in (*OPEN.items(), *TWINS.items()):
        part = addresses.part_of(Plan, (key,)) or addresses.part_of(Plan, (key, "any"))
        assert part is not None, key
        for field in fields:
            assert part.model_fields[field].default is None, f"{key}.{field}"


def test_a_plan_that_hardly_says_anything_leaves_everything_open():
    plan = Plan.of({"van": {"name": "A"}, "household": {"people": 2}, "runs": {"r": {"from": "a", "to": "b"}}} | PLACES)
    found = {one.address: one.meaning for one in still_open(plan)}
    assert found["household.days_wanted"] == "days to stay out"
    assert found["runs.r.length"] == "length of the run"
    assert found["runs.r.size"] == "its size or its bore"
    assert found["tees.a.z"] == "height above the van's floor"
    assert found["pumps"] == "none in the plan"
    assert not {"tees", "uses", "battery", "inverter"} & set(found)


def test_a_battery_is_open_only_where_something_lives_on_one():
    def absent(**van):
        plan = {"van": {"name": "A", **van}, "household": {"people": 2}, "pumps": {"pump": {"kind": "diaphragm"}}}
        return {one.address for one in still_open(Plan.of(plan))}

    assert {"battery", "inverter"} <= absent()
    assert not {"battery", "inverter"} & absent(without=["battery"])


def test_what_is_said_is_not_open(family):
    found = {one.address for one in still_open(family)}
    assert "outlets.basin tap.wanted" in found
    assert all(family.at(address) in (None, {}) for address in found)
    assert not any(address.startswith(("tanks.", "pumps.", "runs.", "battery")) for address in found)


def test_what_only_a_thermostatic_valve_has_is_open_for_one(family):
    assert not any(one.address.endswith(("least_flow", "hot_excess")) for one in still_open(family))
    found = {one.address for one in still_open(family.changed({"mixers.shower mixer.kind": "thermostatic"}))}
    assert {"mixers.shower mixer.least_flow", "mixers.shower mixer.hot_excess"} <= found
    assert not any(address.startswith("mixers.galley mixer.hot") for address in found)


PLACES = {"tees": {"a": {}, "b": {}}}
