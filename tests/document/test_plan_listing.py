from __future__ import annotations

import math

import pytest

from vanwater.document.plan_listing import ACROSS, Origin, differing, listings, title_of
from vanwater.document.words import Words
from vanwater.plan.file import read
from vanwater.plan.model import Plan
from vanwater.plan.tables import resource

EXAMPLES = ("family-winter", "long-stay-dry-toilet", "weekend-cans")


def plan_of(name: str) -> Plan:
    return read(resource("data", "plans", f"{name}.toml")).plan


def values_of(plan: Plan, us: bool = False):
    return {
        value.address: value
        for listing in listings(plan, Words(us))
        for entry in listing.entries
        for value in entry.values.values()
    }


def leaves(raw, above=""):
    """Addresses down to a part's fields: a curve and a table of fittings are one value each."""
    for name, value in raw.items():
        address = f"{above}.{name}" if above else name
        deep = isinstance(value, dict) and name != "fittings"
        yield from leaves(value, address) if deep else (address,)


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_value_that_the_builder_wrote_is_there_as_the_builders(name):
    plan = plan_of(name)
    values = values_of(plan)
    written = [address for address in leaves(plan.own) if not address.startswith("situations.")]
    assert len(written) > 50
    for address in written:
        while address and address not in values:  # what stands in a table within a table is told together
            address = address.rpartition(".")[0]
        assert values[address].origin is Origin.PLAN, address


@pytest.mark.parametrize("name", EXAMPLES)
def test_every_value_of_a_situation_is_there_beside_the_plan(name):
    plan = plan_of(name)
    for situation, overlay in plan.overlays.items():
        told = {value.address: value.shown for value in differing(plan, situation)}
        assert told.keys() == overlay.values.keys() - {"situations"}
        there = plan.in_situation(situation)
        assert all(there.at(address) == shown.value for address, shown in told.items() if hasattr(shown, "value"))


@pytest.mark.parametrize("name", EXAMPLES)
def test_numbers_are_the_plans_own(name):
    plan = plan_of(name)
    numbers = {a: v.shown.value for a, v in values_of(plan, plan.us).items() if hasattr(v.shown, "value")}
    assert len(numbers) > 50
    assert {address: plan.at(address) for address in numbers} == numbers


def test_ready_habits_fill_the_gaps_and_say_so(family):
    values = values_of(family)
    assert values["uses.shower.duration"].origin is Origin.PLAN
    assert values["uses.shower.returns"].origin is Origin.HABITS
    assert values["uses.teeth.volume"].origin is Origin.HABITS
    assert values["uses.teeth.adds"].origin is Origin.TAKEN
    assert values["household.run_off"].origin is Origin.TAKEN


def test_fields_that_nobody_speaks_of_are_told_apart(family):
    by_key = {listing.key: listing for listing in listings(family, Words())}
    assert [field.key for field in by_key["household"].said] == ["people", "habits", "days_wanted"]
    assert [field.key for field, _ in by_key["household"].taken] == ["run_off", "unsure"]
    assert "clogged" in [field.key for field, _ in by_key["runs"].taken]
    for listing in by_key.values():
        both = [field.key for field in listing.said] + [field.key for field, _ in listing.taken]
        assert sorted(both) == sorted(field.key for field in listing.fields)


def test_kinds_without_parts_are_left_out_and_the_rest_is_in_the_order_of_the_model():
    plan = plan_of("weekend-cans")
    keys = [listing.key for listing in listings(plan, Words(us=True))]
    assert "heaters" not in keys and "inverter" not in keys
    assert keys == [key for key in Plan.model_fields if key in keys]


def test_units_of_a_field_are_those_of_all_its_numbers(family):
    for us in (False, True):
        for listing in listings(family, Words(us)):
            for field in listing.fields:
                held = [entry.values[field.key].shown for entry in listing.entries if field.key in entry.values]
                units = {one.quantity.unit(us) for one in held if hasattr(one, "quantity")}
                assert len(units) <= 1
                assert units <= {field.quantity.unit(us)} if field.quantity else not units


def test_a_curve_and_fittings_are_told_in_words(family):
    values = values_of(family)
    words = Words()
    assert words.bare(values["pumps.pump.curve"].shown).startswith("0\xa0L/min at 3.1\xa0bar, 3\xa0L/min")
    assert "3 × push-fit elbow" in words.bare(values["runs.hot shower line.fittings"].shown)


def test_titles_begin_with_a_capital():
    assert title_of("runs") == "Runs of hose and pipe"


def test_few_parts_with_many_fields_stand_side_by_side_and_others_in_equal_strips():
    by_key = {listing.key: listing for listing in listings(plan_of("long-stay-dry-toilet"), Words())}
    assert len(by_key["tanks"].entries) == 4 and by_key["tanks"].turned
    assert by_key["household"].turned
    assert not by_key["uses"].turned and not by_key["runs"].turned
    for listing in by_key.values():
        assert tuple(field for strip in listing.strips for field in strip) == listing.said
        widths = [len(strip) for strip in listing.strips]
        assert max(widths, default=0) <= ACROSS
        assert len(widths) == math.ceil(len(listing.said) / ACROSS)
        assert max(widths, default=0) - min(widths, default=0) < max(len(widths), 2)
