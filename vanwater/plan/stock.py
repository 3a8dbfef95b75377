"""Parts that a plan takes by name: generic ones that ship with the package, and the builder's own shelf.

Both are written alike, as tables and fields of a plan. A part's own fields in the plan go before those of its stock.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import Annotated, Any

from pydantic import ValidationError

from vanwater.plan.address import nearest
from vanwater.plan.part import Part, asked
from vanwater.plan.problems import Problem, joined, shown
from vanwater.plan.raw import copied, table, text
from vanwater.plan.tables import listed_by, resource
from vanwater.quantities import MASS, MONEY, retold

__all__ = [
    "INSTEAD",
    "SINGLE",
    "STOCKED",
    "Notes",
    "Parts",
    "Shelf",
    "StockPart",
    "bring",
    "generic",
    "of_stock",
    "stock_part",
    "with_stock",
]

SINGLE = ("battery", "inverter")
"""Tables that stand once in a plan; on a shelf there may be many of them by name."""

STOCKED = ("tanks", "pumps", "accumulators", "heaters", "pads", "runs", "mixers", "outlets", *SINGLE, "fittings")
"""Tables whose parts may be taken by name; fittings are named by the runs."""

BASIS = "common practice, from memory"

INSTEAD: Mapping[tuple[str, str], tuple[str, ...]] = {
    **{("tanks", side): ("capacity",) for side in ("length", "width", "height", "diameter")},
    ("tanks", "capacity"): ("length", "width", "height", "diameter", "shape"),
    ("tanks", "shape"): ("length", "width", "height", "diameter", "capacity"),
    ("pumps", "curve"): ("curve_volts",),
    ("runs", "size"): ("bore", "outside", "roughness"),
    ("runs", "bore"): ("size", "outside", "roughness"),
    ("outlets", "type"): ("flow", "at", "regulated"),
    ("outlets", "flow"): ("type", "at"),
    ("fittings", "k"): ("loss", "loss_at"),
}
"""Fields of the stock that no longer count when a part says another one itself."""


class Notes(Part):
    """What is said of a part beside the fields of a plan."""

    about: str = asked("what it is", "", max_length=200)
    basis: str = asked("where its values come from", "", max_length=200)
    price: Annotated[float, MONEY] | None = asked("what it costs")
    mass: Annotated[float, MASS] | None = asked("what it weighs, dry")


@dataclass(frozen=True, slots=True, kw_only=True)
class StockPart:
    """A part that a plan takes by its name.

    Parameters
    ----------
    table, name : str
        Table of a plan that it fits into, and its name.
    fields : mapping of str to object
        What it says, as a plan's file would.
    about, basis : str
        What it is, and where its values come from.
    price : float or None
        In the builder's own money.
    mass : float or None
        Dry [kg].
    """

    table: str
    name: str
    fields: Mapping[str, Any]
    about: str
    basis: str
    price: float | None
    mass: float | None

    def told(self, us: bool) -> str:
        """What it is: a generic part in the reader's units, the builder's own in his words."""
        return retold(self.about, us) if generic().get(self.table, {}).get(self.name) is self else self.about


Parts = Mapping[str, Mapping[str, StockPart]]
"""By table and name."""


@dataclass(frozen=True, slots=True)
class Shelf:
    """A builder's own parts, as read from a file beside the plan.

    Parameters
    ----------
    name : str
        The file as the plan names it; empty for none.
    parts : mapping
        By table and name.
    """

    name: str = ""
    parts: Parts = field(default_factory=dict)

    def held(self, table: str) -> Mapping[str, StockPart]:
        """What the shelf and the generic stock have for a table of a plan, the shelf's first."""
        return {**self.parts.get(table, {}), **generic().get(table, {})}


@lru_cache
def generic() -> Parts:
    """The generic parts that ship with the package.

    Returns
    -------
    mapping
        By table and name.
    """
    raw = tomllib.loads(resource("data", "tables", "stock.toml").read_text(encoding="utf-8"))
    return {
        kind: {name: stock_part(kind, name, said, BASIS) for name, said in held.items()} for kind, held in raw.items()
    }


def stock_part(kind: str, name: str, said: Mapping[str, Any], basis: str) -> StockPart:
    """A part as its table says it.

    Parameters
    ----------
    kind, name : str
        Table of a plan, and the part's name.
    said : mapping of str to object
        Fields of a plan, and the notes beside them.
    basis : str
        Where its values come from, if it does not say so itself.

    Returns
    -------
    StockPart
        Its fields are not looked at; notes that cannot be read are left out.
    """
    noted = {key: value for key, value in said.items() if key in Notes.model_fields}
    try:
        notes = Notes.model_validate(noted, context={"file": True})
    except ValidationError:
        notes = Notes()
    return StockPart(
        table=kind,
        name=name,
        fields={key: value for key, value in said.items() if key not in noted},
        about=notes.about,
        basis=notes.basis or basis,
        price=notes.price,
        mass=notes.mass,
    )


def with_stock(raw: Mapping[str, Any], shelf: Shelf) -> tuple[dict[str, Any], list[Problem]]:
    """The tables with what their stock says filled in below the builder's own words.

    Parameters
    ----------
    raw : mapping
        Tables as the file gives them.
    shelf : Shelf
        The builder's own parts.

    Returns
    -------
    tuple
        The filled tables, and the problems of names that are no stock.
    """
    filled = dict(raw)
    problems: list[Problem] = []
    wanted_shelf = text(raw, "shelf")
    if wanted_shelf is not None and wanted_shelf != shelf.name:
        message = f"The shelf {shown(wanted_shelf)} was not read with the plan."
        problems.append(Problem("shelf", message, "a plan that is read from its file, which names its shelf"))
    for kind in STOCKED[:-1]:
        parts = {"": raw.get(kind)} if kind in SINGLE else raw.get(kind)
        if not isinstance(parts, Mapping):
            continue
        for name, own in parts.items():
            if not isinstance(own, Mapping) or (wanted := text(own, "stock")) is None:
                continue
            place = (kind,) if kind in SINGLE else (kind, str(name))
            part, problem = _taken(place, own, wanted, shelf.held(kind))
            problems += problem
            filled[kind] = part if kind in SINGLE else {**filled[kind], name: part}
    mine = _fittings(raw, shelf)
    if mine:
        filled["fittings"] = {**mine, **table(raw, "fittings")}
    return filled, problems


def of_stock(problem: Problem, own: Mapping[str, Any]) -> Problem:
    """The same problem, naming the stock that brought the value which it is about.

    Parameters
    ----------
    problem : Problem
        Of a plan's part.
    own : mapping
        The tables as the builder wrote them.

    Returns
    -------
    Problem
        As it is where the builder's own word is meant.
    """
    kind, *way = problem.address.split(".")
    part: Any = own.get(kind)
    if kind not in SINGLE and way:
        part = table(table(own, kind), way.pop(0))
    wanted = text(part, "stock") if isinstance(part, Mapping) and way and way[0] not in part else None
    if wanted is None:
        return problem
    slip = f"{problem.slip} It comes from the stock {shown(wanted)}: say your own {way[0]} beside it."
    return replace(problem, slip=slip.strip())


def _taken(
    place: tuple[str, ...], own: Mapping[str, Any], wanted: str, held: Mapping[str, StockPart]
) -> tuple[dict[str, Any], list[Problem]]:
    problems: list[Problem] = []
    part = held.get(wanted)
    if part is None:
        close = nearest(wanted, tuple(held))
        slip = f"Did you mean {shown(close)}? " if close else ""
        few = ", ".join(list(held)[:3]) if held else "none yet"
        expected = f"a part of the stock or of your shelf: {few}{' and more' if len(held) > 3 else ''}"
        slip += listed_by(place[0])
        problems.append(Problem(joined((*place, "stock")), f"{shown(wanted)} does not exist.", expected, slip))
        part = held.get(close) or next(iter(held.values()), None)
    if part is None:
        return dict(own), problems
    kind = text(own, "kind")
    if not problems and place[0] == "pumps" and kind is not None and kind != part.fields.get("kind", "diaphragm"):
        message = f"{shown(wanted)} is no {kind} pump."
        problems.append(Problem(joined((*place, "kind")), message, "a stock pump of that kind", listed_by("pumps")))
        own = {key: value for key, value in own.items() if key != "kind"}
    left_out = {other for key in own for other in INSTEAD.get((place[0], key), ())}
    return {key: value for key, value in part.fields.items() if key not in left_out} | dict(own), problems


def _fittings(raw: Mapping[str, Any], shelf: Shelf) -> dict[str, Any]:
    """The shelf's fittings that runs of the plan name."""
    mine = shelf.parts.get("fittings", {})
    runs = table(raw, "runs").values() if mine else ()
    named = {str(name) for run in runs if isinstance(run, Mapping) for name in table(run, "fittings")}
    return {name: dict(part.fields) for name, part in mine.items() if name in named}


def bring(raw: dict[str, Any], filled: Mapping[str, Any], address: str) -> None:
    """Let a list that the stock brought stand in the builder's own table, before one of its values is changed.

    Parameters
    ----------
    raw : dict
        The tables as the builder wrote them; changed in place.
    filled : mapping
        The same with what stock and habits say below it.
    address : str
        Where a value is about to be changed.
    """
    way = address.split(".")
    here: Any = filled
    for depth, name in enumerate(way[:-1]):
        above, here = here, here.get(name) if isinstance(here, Mapping) else None
        if isinstance(here, list | tuple):
            own: Any = raw
            for step in way[:depth]:
                own = own.get(step) if isinstance(own, Mapping) else None
            if isinstance(own, dict):
                for key in (name, *INSTEAD.get((way[0], name), ())):
                    if key in above:
                        own.setdefault(key, copied(above[key]))
            return
