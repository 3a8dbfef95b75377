from __future__ import annotations

import pytest

from vanwater.plan.address import CROWD, known_keys, nearest, note, numbers_of, part_of, stand_in, value_at
from vanwater.plan.model import Plan
from vanwater.plan.supply import Run
from vanwater.plan.tanks import Tank
from vanwater.plan.winter import Face
from vanwater.quantities import VOLUME


@pytest.mark.parametrize(
    ("word", "known", "found"),
    [
        ("capcity", ("capacity", "count"), "capacity"),
        ("CAPACITY", ("capacity",), "capacity"),
        ("fresh water", ("FRESH WATER", "GREY"), "FRESH WATER"),
        ("zonk", ("capacity", "count"), ""),
        ("x", (), ""),
        ("", ("a",), ""),
        ("y" * 10**6, ("y" * 50,), "y" * 50),
    ],
)
def test_nearest_known_word(word: str, known: tuple[str, ...], found: str) -> None:
    assert nearest(word, known) == found


def test_in_a_crowd_nothing_is_looked_for() -> None:
    names = tuple(f"name {n}" for n in range(CROWD + 1))
    assert nearest("name 7x", names[:CROWD]).startswith("name ")
    assert nearest("name 7x", names) == ""


def test_keys_are_spelt_as_in_the_file() -> None:
    assert known_keys(Run)[:5] == ("stock", "why", "from", "to", "size")


def test_part_at_a_place() -> None:
    assert part_of(Plan, ()) is Plan
    assert part_of(Plan, ("tanks", "any name")) is Tank
    assert part_of(Plan, ("tanks", "any name", "faces", "top")) is Face
    assert part_of(Plan, ("tanks",)) is None
    assert part_of(Plan, ("tanks", "x", "capacity")) is None
    assert part_of(Plan, ("nothing", "x")) is None
    assert part_of(Plan, ("battery",)) is not None


def test_note_of_a_field() -> None:
    capacity = note(Plan, "tanks.any.capacity")
    assert capacity.address == "tanks.any.capacity"
    assert capacity.description == "volume of one, brim full; where its sides hold less, theirs counts"
    assert capacity.quantity is not None
    assert capacity.quantity.name == VOLUME.name
    assert (capacity.quantity.low, capacity.quantity.high) == (pytest.approx(5e-4), 1.0)
    assert note(Plan, "tanks.any.holds").choices == ("fresh", "grey", "urine", "cassette")
    assert note(Plan, "household.habits").choices == ("careful", "moderate", "home-like")
    assert note(Plan, "household.people").whole == (1, 12)
    assert note(Plan, "runs.any.fittings.elbow").whole == (0, 60)
    assert note(Plan, "runs.any.from").description == "piece where it begins"


@pytest.mark.parametrize(
    "address", ["tanks.any.capcity", "zonk", "", "van.name.x", "tanks.any", "runs.any.fittings.a.b"]
)
def test_note_of_no_field(address: str) -> None:
    with pytest.raises(KeyError, match="The plan has no field"):
        note(Plan, address)


def test_value_of_nested_tables_and_lists() -> None:
    assert value_at({"a": {"b": ((1, 2),)}}, "a.b.0.1") == 2
    with pytest.raises(KeyError):
        value_at({"a": None}, "a.b")


@pytest.mark.parametrize(
    ("place", "value"),
    [
        (("van",), {}),
        (("van", "name"), "?"),
        (("household", "people"), 1),
        (("tanks", "x", "holds"), "fresh"),
        (("battery", "volts"), "12.8 V"),
    ],
)
def test_stand_in_is_what_could_be(place: tuple[str, ...], value: object) -> None:
    assert stand_in(Plan, place) == value


def test_numbers_of_a_plan_have_an_address_each() -> None:
    plan = Plan.of(
        {
            "van": {"name": "3"},
            "household": {"people": 2},
            "outlets": {"tap": {"flow": "6 L/min", "at": "1 bar", "regulated": True}},
            "pumps": {"pump": {"curve": [["0 L/min", "3 bar"], ["9 L/min", "0 bar"]], "curve_volts": "12 V"}},
        }
    )
    addresses = list(numbers_of(plan))
    assert {"household.people", "outlets.tap.flow", "pumps.pump.curve.1.0", "site.altitude"} <= set(addresses)
    assert not {"van.name", "outlets.tap.regulated", "outlets.tap.wanted"} & set(addresses)
    assert all(type(plan.at(address)) in (int, float) for address in addresses)
