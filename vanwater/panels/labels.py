"""What a control is called: the part it belongs to, the field's own words, its unit."""

from __future__ import annotations

import re

from vanwater.plan.address import FieldNote
from vanwater.plan.model import Plan
from vanwater.plan.tables import outlets, pipes
from vanwater.quantities import Quantity

__all__ = ["brief", "choices_of", "heading", "label", "sorted_by_part"]

_TABLES = {
    "tanks": "tank",
    "pumps": "pump",
    "mains": "mains inlet",
    "runs": "run",
    "fittings": "fitting",
    "accumulators": "accumulator",
    "heaters": "heater",
    "tees": "tee",
    "mixers": "mixing tap",
    "outlets": "outlet",
    "uses": "use",
    "pads": "heating pad",
}
"""The trade's noun for one of each table that holds several."""


def heading(plan: Plan, address: str) -> str:
    """The part that a field belongs to.

    Parameters
    ----------
    plan : Plan
        The plan.
    address : str
        Address of the field.

    Returns
    -------
    str
        A plan's own name with the trade's noun, "shower (use)"; to be made harmless where it is shown.
    """
    table, *rest = address.split(".")
    if table in _TABLES and rest:
        name = rest[0]
        noun = f"{plan.tanks[name].holds} tank" if table == "tanks" and name in plan.tanks else _TABLES[table]
        return noun if name == noun.removesuffix(" tank") or name == noun else f"{name} ({noun})"
    return table


def label(note: FieldNote, quantity: Quantity | None, us: bool = False) -> str:
    """A field's own words, up to what is said beside them, with its unit.

    Parameters
    ----------
    note : FieldNote
        What is known of the field.
    quantity : Quantity, optional
        By whose unit it is told.
    us : bool
        US units instead of metric ones.

    Returns
    -------
    str
        Such as "time the tap is open (s)".
    """
    words = note.said(us).partition(";")[0] or note.address.rpartition(".")[2].replace("_", " ")
    unit = quantity.unit(us) if quantity is not None else ""
    return f"{words} ({unit})" if unit and not words.endswith(unit) else words


def brief(label: str, most: int = 32) -> str:
    """A label of one line: what follows its first comma is left to the hint, the unit stays.

    Examples
    --------
    >>> brief("insulation all around, where no face says otherwise (mm)")
    'insulation all around (mm)'
    >>> brief("centre, metres behind the front axle of the van (m)")
    'centre, metres behind the front axle of the van (m)'
    """
    words, bracket, unit = label.partition(" (")
    first = re.split("[,;]", words)[0]
    return first + bracket + unit if len(label) > most and " " in first else label


def choices_of(note: FieldNote) -> tuple[str, ...]:
    """What a field can be chosen from: its own choices, or the keys of the table that it names."""
    if note.choices:
        return note.choices
    table, *_, last = note.address.split(".")
    if (table, last) == ("runs", "size"):
        return tuple(pipes())
    return tuple(outlets()) if (table, last) == ("outlets", "type") else ()


def sorted_by_part(addresses: tuple[str, ...]) -> tuple[tuple[str, ...], ...]:
    """Addresses of one part side by side, in the order in which the parts come first."""
    parts: dict[str, list[str]] = {}
    for address in addresses:
        parts.setdefault(address.rpartition(".")[0], []).append(address)
    return tuple(tuple(each) for each in parts.values())
