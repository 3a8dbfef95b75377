from __future__ import annotations

from vanwater.panels.labels import brief, choices_of, heading, label, sorted_by_part
from vanwater.plan.address import note
from vanwater.plan.file import PlanFile
from vanwater.plan.model import Plan
from vanwater.plan.tables import outlets, pipes
from vanwater.quantities import RATE, SECONDS, THICKNESS, VOLUME


def test_a_label_ends_in_the_unit_once() -> None:
    assert label(note(Plan, "tanks.fresh.capacity"), VOLUME) == "volume of one, brim full (L)"
    assert label(note(Plan, "tanks.fresh.capacity"), VOLUME, us=True) == "volume of one, brim full (gal)"
    assert label(note(Plan, "uses.shower.duration"), SECONDS) == "time the tap is open (s)"
    assert label(note(Plan, "uses.shower.a_day"), RATE) == "times a day"
    assert label(note(Plan, "household.people"), None) == "people who live in the van"


def test_a_long_label_is_cut_at_its_comma_and_keeps_its_unit() -> None:
    foam = label(note(Plan, "tanks.fresh.foam"), THICKNESS)
    assert brief(foam) == "insulation all around (mm)"
    assert brief("volume of one, brim full (L)") == "volume of one, brim full (L)"
    assert brief("volts that reach the pump while it runs (V)") == "volts that reach the pump while it runs (V)"


def test_a_heading_names_the_part_and_its_kind(family: PlanFile) -> None:
    plan = family.plan
    assert heading(plan, "household.people") == "household"
    assert heading(plan, "tanks.fresh.length") == "fresh tank"
    assert heading(plan, "uses.shower.a_day") == "shower (use)"
    assert heading(plan, "outlets.galley tap.z") == "galley tap (outlet)"
    assert heading(plan, "pumps.pump.volts") == "pump"


def test_choices_are_the_fields_own_or_those_of_its_table() -> None:
    assert choices_of(note(Plan, "household.habits")) == ("careful", "moderate", "home-like")
    assert choices_of(note(Plan, "runs.trunk.size")) == tuple(pipes())
    assert choices_of(note(Plan, "outlets.shower.type")) == tuple(outlets())
    assert choices_of(note(Plan, "van.name")) == ()


def test_addresses_of_a_part_stand_side_by_side() -> None:
    given = ("household.people", "tanks.a.length", "household.habits", "tanks.b.length")
    assert sorted_by_part(given) == (
        ("household.people", "household.habits"),
        ("tanks.a.length",),
        ("tanks.b.length",),
    )
