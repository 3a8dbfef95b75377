"""One address for everything: "tanks.fresh.capacity" from the file's line to the slider."""

from __future__ import annotations

import difflib
import types
import typing
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, TypeGuard

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from vanwater.plan.problems import LONGEST, shown
from vanwater.quantities import Quantity, retold

__all__ = [
    "FieldNote",
    "hint_below",
    "known_keys",
    "nearest",
    "note",
    "numbers_of",
    "part_of",
    "place_in",
    "stand_in",
    "value_at",
]

CROWD = 300
"""Names among which a nearest one is still looked for, so that a huge file does not take minutes."""


@dataclass(frozen=True, slots=True)
class FieldNote:
    """What is known of a field: its words, its quantity, its values.

    Parameters
    ----------
    address : str
        Where it stands in the plan.
    description : str
        What it means, in one plain phrase.
    quantity : Quantity or None
        With the believable range of this field.
    choices : tuple of str
        The values that a choice may take.
    whole : tuple of int, or None
        Least and greatest whole number, for counts.
    """

    address: str
    description: str
    quantity: Quantity | None
    choices: tuple[str, ...] = ()
    whole: tuple[int, int] | None = None

    def said(self, us: bool) -> str:
        """Its description, in the reader's units."""
        return retold(self.description, us)


def value_at(part: Any, address: str) -> Any:
    """The value at an address below a part.

    Parameters
    ----------
    part : Part
        Where to start.
    address : str
        Names joined by dots.

    Returns
    -------
    object
        The value there.

    Raises
    ------
    KeyError
        When there is no such place, with the nearest that exists.
    """
    names = address.split(".")
    here = part
    try:  # the straight way, which an answer goes hundreds of times
        for name in names:
            kind: type[BaseModel] = type(here)
            here = here[name] if isinstance(here, dict) else here.__dict__[_names(kind)[name]]
        return here
    except (KeyError, AttributeError):
        here = part
    way: list[str] = []
    for name in names:
        known: tuple[str, ...] = ()
        if isinstance(here, BaseModel):
            field = _field_name(type(here), name)
            if field is not None:
                here = getattr(here, field)
                way.append(name)
                continue
            known = known_keys(type(here))
        elif isinstance(here, Mapping):
            if name in here:
                here = here[name]
                way.append(name)
                continue
            known = tuple(here)
        elif isinstance(here, tuple) and place_in(here, name) is not None:
            here = here[int(name)]
            way.append(name)
            continue
        elif here is None and isinstance(part, BaseModel) and _has_field(type(part), names):
            return None
        raise KeyError(_missing(way, name, address, known))
    return here


def numbers_of(part: Any) -> Iterator[str]:
    """The addresses of all numbers below a part that are decided.

    Parameters
    ----------
    part : Part, mapping or list
        Where to start: the plan.

    Yields
    ------
    str
        Names joined by dots, in the order of the model; true and false are no numbers.
    """
    entries: Iterable[tuple[object, Any]] = ()
    if isinstance(part, BaseModel):
        entries = ((key, getattr(part, field)) for key, field in _names(type(part)).items())
    elif isinstance(part, Mapping):
        entries = part.items()
    elif isinstance(part, tuple):
        entries = enumerate(part)
    for key, value in entries:
        if type(value) in (int, float):
            yield str(key)
        yield from (f"{key}.{below}" for below in numbers_of(value))


def place_in(values: Sequence[Any], name: str) -> int | None:
    """The place that a name means in a list, counted from 0, or None where the list has none such."""
    return int(name) if name.isascii() and name.isdecimal() and int(name[:9]) < len(values) else None


def nearest(word: str, known: tuple[str, ...], alike: float = 0.55) -> str:
    """The known word that is most like a misspelt one, or an empty text; in a crowd none is looked for."""
    if len(known) > CROWD:
        return ""
    folded = {other.casefold(): other for other in reversed(known)}
    close = difflib.get_close_matches(word[:LONGEST].casefold(), folded, n=1, cutoff=alike)
    return folded[close[0]] if close else ""


@lru_cache
def known_keys(part: type[BaseModel]) -> tuple[str, ...]:
    """The keys that a part's table may hold, as the file spells them."""
    return tuple(field.alias or name for name, field in part.model_fields.items())


def part_of(model: type[BaseModel], place: Sequence[str | int]) -> type[BaseModel] | None:
    """The kind of part at a place, or None where no part stands."""
    here: Any = model
    for name in place:
        here = hint_below(here, str(name))
    return here if _is_part(here) else None


def hint_below(here: Any, name: str) -> Any:
    """The type of what a part, table or list holds under a name, without its bounds; None where nothing can stand."""
    below = _hint_below(here, name)
    return None if below is None else _bare(below)


def _is_part(hint: Any) -> TypeGuard[type[BaseModel]]:
    return isinstance(hint, type) and issubclass(hint, BaseModel)


def _hint_below(here: Any, name: str) -> Any:
    if _is_part(here):
        field = _field_name(here, name)
        return None if field is None else _hints(here)[field]
    kinds = typing.get_args(here)
    if typing.get_origin(here) is tuple:
        return kinds[0] if kinds[-1] is Ellipsis else kinds[int(name)] if name in ("0", "1")[: len(kinds)] else None
    return kinds[1] if typing.get_origin(here) is dict else None


def _has_field(model: type[BaseModel], names: Sequence[str]) -> bool:
    part = part_of(model, names[:-1])
    return part is not None and _field_name(part, names[-1]) is not None


def note(model: type[BaseModel], address: str) -> FieldNote:
    """What is known of the field at an address.

    Parameters
    ----------
    model : type of Part
        Kind of part where the address starts: the plan.
    address : str
        Names joined by dots.

    Returns
    -------
    FieldNote
        Words, quantity and bounds.

    Raises
    ------
    KeyError
        When no such field exists.
    """
    *tables, last = address.split(".")
    part = part_of(model, tables)
    field = _field_name(part, last) if part else None
    description = ""
    if part is not None and field is not None:
        hint = _hints(part)[field]
        rules: list[Any] = list(part.model_fields[field].metadata)
        description = part.model_fields[field].description or ""
    else:
        holder = part_of(model, tables[:-1])
        field = _field_name(holder, tables[-1]) if holder and tables else None
        hint = _hint_below(_bare(_hints(holder)[field]), last) if holder and field else None
        if hint is None or _is_part(_bare(hint)):
            raise KeyError(f'The plan has no field "{address}".')
        rules = _rules(hint)
    bare = _bare(hint)
    bounds = {type(rule).__name__: rule for rule in rules}
    whole = None
    if "Ge" in bounds and "Le" in bounds and bare is int:
        whole = (int(bounds["Ge"].ge), int(bounds["Le"].le))
    choices = (
        tuple(str(choice) for choice in typing.get_args(bare)) if typing.get_origin(bare) is typing.Literal else ()
    )
    return FieldNote(address, description, _quantity(hint), choices, whole)


def stand_in(model: type[BaseModel], place: Sequence[str | int]) -> object:
    """A value that could stand at a place, so that the rest of a broken plan is checked too.

    Parameters
    ----------
    model : type of Part
        The plan's model.
    place : sequence of str
        Where a value is missing.

    Returns
    -------
    object
        The least that fits: a part without fields, the first choice, the quantity's example.
    """
    if part_of(model, place) is not None:
        return {}
    known = note(model, ".".join(str(name) for name in place))
    if known.quantity is not None:
        return known.quantity.example
    return known.choices[0] if known.choices else known.whole[0] if known.whole else "?"


def _missing(way: Sequence[str], name: str, address: str, known: tuple[str, ...]) -> str:
    close = nearest(name, known)
    hint = f" Did you mean {shown('.'.join((*way, close)))}?" if close else ""
    return f"The plan has no {shown(address)}.{hint}"


def _field_name(part: type[BaseModel], key: str) -> str | None:
    return _names(part).get(key)


@lru_cache
def _names(part: type[BaseModel]) -> dict[str, str]:
    """The fields of a part by the keys that the file spells them with."""
    return {field.alias or name: name for name, field in part.model_fields.items()}


@lru_cache
def _hints(part: type[BaseModel]) -> dict[str, Any]:
    return typing.get_type_hints(part, include_extras=True)


def _rules(hint: Any) -> list[Any]:
    """The bounds of an annotated type that is no field of its own: the values of a table."""
    rules = []
    for extra in typing.get_args(hint)[1:] if typing.get_origin(hint) is typing.Annotated else ():
        rules += extra.metadata if isinstance(extra, FieldInfo) else [extra]
    return rules


def _bare(hint: Any) -> Any:
    while True:
        if typing.get_origin(hint) is typing.Annotated:
            hint = typing.get_args(hint)[0]
        elif typing.get_origin(hint) in (typing.Union, types.UnionType):
            options = [option for option in typing.get_args(hint) if option is not type(None)]
            if len(options) != 1:
                return hint
            hint = options[0]
        else:
            return hint


def _quantity(hint: Any) -> Quantity | None:
    if typing.get_origin(hint) is typing.Annotated:
        for extra in typing.get_args(hint)[1:]:
            if isinstance(extra, Quantity):
                return extra
        return _quantity(typing.get_args(hint)[0])
    if typing.get_origin(hint) in (typing.Union, types.UnionType):
        for option in typing.get_args(hint):
            quantity = _quantity(option)
            if quantity is not None:
                return quantity
    return None
