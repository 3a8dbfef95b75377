"""What the numbers of a drawing to scale stand for, and what has no place on it, as tables."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from vanwater.answers.core.cell import Cell
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.table import Column, Table
from vanwater.figures.to_scale.parts import AXES, VIEWS, Placed, Van
from vanwater.quantities import PLACE

__all__ = ["notes", "places", "without_place"]

_HEADS = ("behind front axle", "right of centre line", "above floor", "length", "width", "height")
_VIEWS = {"side": "side view", "plan": "plan view"}


def places(van: Van) -> Table:
    """The parts that are drawn, with the places and sides that the plan says; then the water's centres of mass.

    Parameters
    ----------
    van : Van
        What is drawn.

    Returns
    -------
    Table
        In the order of the numbers.
    """
    rows: list[tuple[Cell, ...]] = [
        (part.tag, part.what, part.name, *(_cell(said.get(axis)) for said in (part.at, part.sides) for axis in AXES))
        for part in van.parts
        if any(part.seen(view) for view in VIEWS)
    ]
    for centre in van.centres:
        at = (_cell(centre.behind), _cell(centre.right), None)
        rows.append((centre.tag, "centre of mass of the water", centre.words, *at, None, None, None))
    columns = (*(Column(head) for head in ("no.", "part", "in the plan")), *(Column(head, PLACE) for head in _HEADS))
    return Table(
        "places",
        say("What is drawn to scale: places of centres, heights of undersides, inside sides of tanks."),
        columns,
        tuple(rows),
        _vehicle(van),
    ).known(always=3)


def without_place(van: Van) -> Table:
    """What is not drawn, or not whole, since the plan does not say where it is: where that would be filled in.

    Parameters
    ----------
    van : Van
        What is drawn.

    Returns
    -------
    Table
        No rows where all has its place.
    """
    rows = [
        (part.tag, part.what, part.name, missing, filled)
        for part in van.parts
        for missing, filled in (_missing(part),)
        if missing
    ]
    if van.lacks:
        rows.append(("", "the van", "", "lines of it", _short(van.lacks)))
    heads = ("no.", "part", "in the plan", "not drawn", "to fill in")
    return Table("without_place", say("No place given, so not drawn."), tuple(map(Column, heads)), tuple(rows))


def notes(van: Van, us: bool) -> tuple[str, ...]:
    """What a reader of the views has to know of units, marks and lines.

    Parameters
    ----------
    van : Van
        What is drawn.
    us : bool
        US units instead of metric ones.

    Returns
    -------
    tuple of str
        Sentences.
    """
    unit = {"m": "metres", "in": "inches"}[PLACE.unit(us)]
    told = [
        f"All places in {unit}: along the van from the front axle, to the right from the centre line, heights from the "
        "van's floor."
    ]
    marks = [part for part in van.parts if not part.sides and any(part.seen(view) for view in VIEWS)]
    shown = []
    if any(part.sides for part in van.parts):
        shown.append("Tanks and heaters with their sides are to scale")
    if marks:
        shown.append("symbols are marks, their middle is the place")
    if any(part.kind in ("tank", "heater") for part in marks):
        shown.append("a crossed box has no sides in the plan")
    if any(part.below and part.seen("plan") for part in van.parts):
        shown.append("dashed in the plan view: under the floor")
    if shown:
        told.append(f"{'; '.join(shown)}.".capitalize())
    if van.centres:
        states = ", ".join(f"{each.tag} {each.words}" for each in van.centres)
        told.append(f"Centre of mass of the water: {states}; how high it lies is not worked out.")
    return tuple(told)


def _cell(number: Number | None) -> Cell:
    return None if number is None else number.amount


def _missing(part: Placed) -> tuple[str, str]:
    """What of a part is not drawn, and the addresses that would mend it."""
    unseen = [words for view, words in _VIEWS.items() if not part.seen(view)]  # type: ignore[arg-type]
    missing = ["both views"] if len(unseen) == 2 else unseen
    filled = list(part.lacks) if missing else []
    if part.unsized:
        missing.append("its sides")
        filled += part.unsized
    if part.count > 1:
        missing.append("how they stand")
        filled.append("a table of its own for each")
    return ", ".join(missing), _short(filled)


def _short(addresses: Sequence[str]) -> str:
    """Addresses of one part, its name once: "tanks.grey.length, width"."""
    told: list[str] = []
    before = ""
    for address in addresses:
        place, dot, field = address.rpartition(".")
        told.append(field if dot and place == before else address)
        before = place
    return ", ".join(told)


def _vehicle(van: Van) -> Say | None:
    """The vehicle's own lengths in a sentence."""
    told = tuple(_lengths(van))
    return say("The van: {lengths}.", lengths=told) if told else None


def _lengths(van: Van) -> Iterator[Say]:
    words = {
        "wheelbase": "wheelbase {length}",
        "track": "track {length}",
        "front_overhang": "{length} before the front axle",
        "length": "{length} long",
        "width": "{length} wide",
        "height": "{length} high",
        "floor": "floor {length} above the road",
        "wheel": "tyres {length}",
    }
    for name, number in van.lengths.items():
        yield say(words[name], length=number.amount)
