from __future__ import annotations

import typing
from collections.abc import Iterator
from typing import Annotated

import numpy as np
import pytest
from pydantic import BaseModel, ValidationError
from pydantic_core import PydanticCustomError

from vanwater.plan.address import note, part_of
from vanwater.plan.model import Plan
from vanwater.plan.part import Part, Whole, YesNo, asked, such_as, wrong
from vanwater.quantities import VOLUME, QuantityError


class Bucket(Part):
    """A bucket."""

    volume: Annotated[float, VOLUME.within("1 L", "20 L")] | None = asked("how much it holds")
    count: Whole = asked("how many", 1, ge=1, le=9)
    lid: YesNo = asked("whether it has a lid", False)

    def clashes(self) -> Iterator[PydanticCustomError]:
        """Two things that do not fit."""
        if self.lid and self.count > 1:
            yield wrong("lid", "Only one has a lid.", "one bucket", "Too many?", ("count",))
        if self.lid and self.volume is None:
            yield wrong("volume", "A lid needs a volume.", 'volume = "9 L"')


def kinds(**values: object) -> list[str]:
    with pytest.raises(ValidationError) as caught:
        Bucket.model_validate(values)
    return [detail["type"] for detail in caught.value.errors()]


def test_unknown_keys_texts_for_numbers_and_numbers_that_are_none_are_refused() -> None:
    assert kinds(colour="red") == ["extra_forbidden"]
    assert kinds(count="2") == kinds(count=True) == ["int_type"]
    assert kinds(count=2.5) == ["int_from_float"]
    assert kinds(count=10) == ["less_than_equal"]
    assert kinds(lid="yes") == kinds(lid=1) == ["bool_type"]
    assert kinds(volume=float("nan")) == kinds(volume=float("inf")) == ["quantity"]
    assert kinds(volume=True) == ["quantity"]


def test_whole_numbers_of_other_kinds_are_taken() -> None:
    assert Bucket(count=np.int64(3)).count == 3
    assert type(Bucket(count=np.int64(3)).count) is int
    assert Bucket(count=3.0).count == 3


def test_a_part_never_changes() -> None:
    with pytest.raises(ValidationError, match="frozen"):
        Bucket().count = 2  # type: ignore[misc]


def test_all_clashes_of_a_part_come_in_one_report() -> None:
    with pytest.raises(ValidationError) as caught:
        Bucket(lid=True, count=2)
    (detail,) = caught.value.errors()
    assert detail["type"] == "check"
    assert [clash["field"] for clash in detail["ctx"]["clashes"]] == ["lid", "volume"]
    assert detail["ctx"]["clashes"][0]["about"] == ("count",)
    assert Bucket(lid=True, volume=0.005).lid


def test_an_example_must_be_believable_itself() -> None:
    assert such_as(VOLUME.within("1 L", "20 L"), "9 L").expected == 'a volume such as "9 L"'
    with pytest.raises(QuantityError, match="not believable"):
        such_as(VOLUME.within("1 L", "20 L"), "75 L")


def every_field(part: type[BaseModel], way: tuple[str, ...] = ()) -> Iterator[tuple[str, type[BaseModel], str]]:
    """Address, part and field of everything that a plan may say; a name of the builder's own is "x"."""
    for name, field in part.model_fields.items():
        key = (*way, field.alias or name)
        inside = part_of(Plan, key)
        entries = part_of(Plan, (*key, "x"))
        if inside is not None:
            yield from every_field(inside, key)
        elif entries is not None:
            yield from every_field(entries, (*key, "x"))
        else:
            yield ".".join(key), part, name


FIELDS = list(every_field(Plan))


def test_the_walk_finds_the_fields() -> None:
    assert len(FIELDS) > 90
    assert "tanks.x.capacity" in {address for address, _, _ in FIELDS}


@pytest.mark.parametrize(("address", "part", "name"), FIELDS, ids=[address for address, _, _ in FIELDS])
def test_every_field_says_what_it_means_and_its_example_and_default_are_believable(
    address: str, part: type[BaseModel], name: str
) -> None:
    found = note(Plan, address)
    assert found.description == found.description.strip() != ""
    assert not found.description.endswith(".")
    field = part.model_fields[name]
    if found.quantity is not None:
        found.quantity.read(found.quantity.example)
        if isinstance(field.default, float):
            assert found.quantity.bounded(field.default) == field.default
            assert found.quantity.read(found.quantity.written(field.default)) == pytest.approx(field.default, rel=1e-9)
    if found.choices and field.default is not None and not field.is_required():
        assert field.default in found.choices
    assert typing.get_type_hints(part, include_extras=True)[name]
