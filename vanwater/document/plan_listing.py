"""The plan as it was decided: every value under its address, and whose word it is."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from enum import Enum
from typing import Any

from vanwater.answers.core.statement import Amount, Say, say
from vanwater.document.words import Shows, Words
from vanwater.plan import address as addresses
from vanwater.plan.model import Plan
from vanwater.plan.part import Part
from vanwater.plan.tables import habits
from vanwater.quantities import FLOW, PRESSURE, THICKNESS, Quantity

__all__ = ["Entry", "Field", "Listing", "Origin", "Value", "differing", "listings", "parts_of", "title_of"]


ACROSS = 6
"""How many fields stand side by side on a page."""


class Origin(Enum):
    """Whose word a value is."""

    PLAN = ""
    HABITS = "†"
    STOCK = "§"
    TAKEN = "‡"


@dataclass(frozen=True, slots=True)
class Value:
    """A value of the plan.

    Parameters
    ----------
    address : str
        Where it stands.
    shown : Amount, Count, Say, str
        What it is.
    origin : Origin
        The builder's word, the ready habits' or the stock's, or what is taken where the plan says nothing.
    """

    address: str
    shown: Shows
    origin: Origin


@dataclass(frozen=True, slots=True)
class Field:
    """A field that several parts have.

    Parameters
    ----------
    key : str
        Its name in the file.
    meaning : str
        What it means.
    quantity : Quantity, optional
        Where it is a number with a unit, which then stands in the heading.
    """

    key: str
    meaning: str
    quantity: Quantity | None


@dataclass(frozen=True, slots=True)
class Entry:
    """One part of the plan: a tank, a run.

    Parameters
    ----------
    name : str
        As the builder named it; empty for a table that stands once.
    values : mapping of str to Value
        By field; those without a value are left out.
    """

    name: str
    values: Mapping[str, Value]


@dataclass(frozen=True, slots=True)
class Listing:
    """All parts of one kind.

    Parameters
    ----------
    key : str
        The table in the file.
    title : str
        What they are.
    fields : tuple of Field
        Those of which at least one part has a value.
    entries : tuple of Entry
        The parts.
    """

    key: str
    title: str
    fields: tuple[Field, ...]
    entries: tuple[Entry, ...]

    @property
    def said(self) -> tuple[Field, ...]:
        """Fields in which the plan or the ready habits say something for at least one part."""
        return tuple(field for field in self.fields if self._origins(field) != {Origin.TAKEN})

    @property
    def taken(self) -> tuple[tuple[Field, Value], ...]:
        """Fields in which nothing is said anywhere, with the value that is taken instead."""
        return tuple(
            (field, next(entry.values[field.key] for entry in self.entries if field.key in entry.values))
            for field in self.fields
            if self._origins(field) == {Origin.TAKEN}
        )

    @property
    def turned(self) -> bool:
        """Whether parts are told side by side and fields one below the other: few parts with many fields."""
        parts = len(self.entries)
        return parts <= 3 or (parts <= 5 and len(self.said) > ACROSS)

    @property
    def strips(self) -> tuple[tuple[Field, ...], ...]:
        """The fields that are said, in as few and as equal strips as fit across a page."""
        count = -(-len(self.said) // ACROSS)
        width = -(-len(self.said) // count) if count else 1
        return tuple(self.said[start : start + width] for start in range(0, len(self.said), width))

    def _origins(self, field: Field) -> set[Origin]:
        return {entry.values[field.key].origin for entry in self.entries if field.key in entry.values}


def listings(plan: Plan, words: Words) -> tuple[Listing, ...]:
    """Every value of a plan, kind by kind.

    Parameters
    ----------
    plan : Plan
        The plan.
    words : Words
        What chooses the units of the headings.

    Returns
    -------
    tuple of Listing
        In the order of the plan's model; kinds of which the plan has none are left out.
    """
    filled = []
    for key in addresses.known_keys(Plan):
        parts = parts_of(plan, key)
        if not parts:
            continue
        entries = tuple(Entry(name, dict(_values(plan, key, name, part))) for name, part in parts)
        fields = {field.key: field for field in _fields(key, parts[0][1], entries, words)}
        alike = tuple(Entry(entry.name, dict(_in_units(entry, fields))) for entry in entries)
        filled.append(Listing(key, title_of(key), tuple(fields.values()), alike))
    return tuple(filled)


def differing(plan: Plan, situation: str) -> tuple[Value, ...]:
    """The values that a situation has in the place of the plan's own.

    Parameters
    ----------
    plan : Plan
        The plan.
    situation : str
        One of its situations.

    Returns
    -------
    tuple of Value
        In the order of the file.
    """
    there = plan.in_situation(situation)
    told = []
    for address, value in plan.overlays[situation].values.items():
        shown: Shows = "left out"
        if isinstance(value, Mapping):
            parts = ((str(key), there.at(f"{address}.{key}"), _quantity(f"{address}.{key}")) for key in value)
            shown = _enumerated(tuple(say("{key} {shown}", key=key, shown=_shown(*of) or "") for key, *of in parts))
        elif value is not None:
            shown = _shown(there.at(address), _quantity(address))
        told.append(Value(address, shown, Origin.PLAN))
    return tuple(value for value in told if value.address != "situations")


def _quantity(address: str) -> Quantity | None:
    try:
        return addresses.note(Plan, address).quantity
    except KeyError:  # a table
        return None


def title_of(key: str) -> str:
    """What the parts of a kind are, with a capital."""
    described = Plan.model_fields[key].description or key
    return described[:1].upper() + described[1:]


def parts_of(plan: Plan, key: str) -> list[tuple[str, Part]]:
    """The parts of a kind with their names; one without a name where the table stands once."""
    held = getattr(plan, key)
    if isinstance(held, Part):
        return [("", held)]
    entries = held.items() if isinstance(held, Mapping) else ()
    return [(name, part) for name, part in entries if isinstance(part, Part)]


def _values(plan: Plan, key: str, name: str, part: Part) -> Iterator[tuple[str, Value]]:
    above = f"{key}.{name}" if name else key
    own: Any = plan.own.get(key, {})
    own = own.get(name, {}) if name else own
    taken = plan.stocked(key, name)
    ready = habits(plan.household.habits).get(name, {}) if key == "uses" and plan.household.habits else {}
    for field in addresses.known_keys(type(part)):
        value = addresses.value_at(part, field)
        if value is None or value in ("", {}):
            continue
        origin = Origin.PLAN if field in own else Origin.HABITS if field in ready else Origin.TAKEN
        if origin is Origin.TAKEN and taken is not None and field in taken.fields:
            origin = Origin.STOCK
        address = f"{above}.{field}"
        yield field, Value(address, _shown(value, addresses.note(Plan, address).quantity), origin)


def _fields(key: str, part: Part, entries: tuple[Entry, ...], words: Words) -> Iterator[Field]:
    above = f"{key}.{entries[0].name}" if entries[0].name else key
    for field in addresses.known_keys(type(part)):
        held = [entry.values[field].shown for entry in entries if field in entry.values]
        if held:
            note = addresses.note(Plan, f"{above}.{field}")
            numbers = [amount.value for amount in held if isinstance(amount, Amount)]
            quantity = words.told_in(note.quantity, numbers) if note.quantity is not None else None
            yield Field(field, note.said(words.us), quantity)


def _in_units(entry: Entry, fields: Mapping[str, Field]) -> Iterator[tuple[str, Value]]:
    """An entry's values in the units of the headings."""
    for key, value in entry.values.items():
        quantity = fields[key].quantity
        if isinstance(value.shown, Amount) and quantity is not None:
            value = replace(value, shown=replace(value.shown, quantity=quantity))
        yield key, value


def _shown(value: Any, quantity: Quantity | None) -> Shows:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int):
        return f"{value}"
    if isinstance(value, float) and quantity is not None:
        return Amount(value, quantity)
    if isinstance(value, Mapping):
        return _enumerated(tuple(_named(name, held) for name, held in value.items()))
    if isinstance(value, tuple):
        return _enumerated(tuple(_listed(part) for part in value))
    return str(value)


def _named(name: str, value: Any) -> Say:
    """One entry of a table within a table: how many of a fitting, or what differs on a face."""
    if isinstance(value, int):
        return say("{count} × {name}", count=value, name=name)
    known = {field: getattr(value, field) for field in type(value).model_fields}
    values = tuple(
        Amount(value, THICKNESS) if isinstance(value, float) else str(value)
        for value in known.values()
        if value is not None
    )
    return say("{name}: {told}", name=name, told=values)


def _listed(value: Any) -> Say:
    """One entry of a list: a name, or a point of a pump's curve."""
    if isinstance(value, str):
        return say("{name}", name=value)
    flow, rise = value
    return say("{flow} at {rise}", flow=Amount(flow, FLOW), rise=Amount(rise, PRESSURE))


def _enumerated(each: tuple[Say, ...]) -> Say:
    return say("{each}", each=each)
