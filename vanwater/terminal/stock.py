"""What a plan may name: sizes, fittings, outlets, habits, joints, materials, generic parts and the builder's own."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from vanwater.plan.address import nearest
from vanwater.plan.stock import SINGLE, STOCKED, Shelf, StockPart
from vanwater.plan.tables import HABITS, FittingRow, fittings, habits, joints, materials, outlets, pipes
from vanwater.quantities import BORE, CONDUCTIVITY, FLOW, LENGTH, MASS, MONEY, PRESSURE, TEMPERATURE, retold
from vanwater.terminal.refusal import RefusedError
from vanwater.terminal.screen import Screen
from vanwater.terminal.tables import Strip, set_in_columns

__all__ = ["stock_lines"]

INDENT = 2
FEW = 3
"""Parts up to which all is told that they say."""


@dataclass(frozen=True, slots=True)
class _Section:
    """One kind of stock.

    Parameters
    ----------
    words : tuple of str
        What one may ask for it by; the first is its own.
    title : str
        What it is, and where a plan names it.
    heads : tuple of str
        Headings; the first column holds the names.
    rows : tuple of tuple of str
        The cells.
    parts : tuple of StockPart
        Of parts, all that they say; told where few are asked for.
    """

    words: tuple[str, ...]
    title: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    parts: tuple[StockPart, ...] = ()


def stock_lines(word: str, shelf: Shelf, screen: Screen) -> list[str]:
    """The stock as tables, or what of it answers to a word.

    Parameters
    ----------
    word : str
        A kind of stock, or any words of a row; everything without it.
    shelf : Shelf
        The builder's own parts.
    screen : Screen
        Width, units and letters.

    Returns
    -------
    list of str
        The lines.

    Raises
    ------
    RefusedError
        When nothing answers to the word, with the nearest name.
    """
    sections = tuple(_sections(shelf, screen.us))
    meant = tuple(_meant(sections, word))
    if not meant:
        raise _unknown(word, sections)
    lines: list[str] = []
    for section in meant:
        lines += [""] * bool(lines) + screen.paragraph(section.title, "bold")
        columns = [
            Strip(screen.held(head), tuple(screen.text(row[place]) for row in section.rows), whole=place == 0)
            for place, head in enumerate(section.heads)
            if any(row[place] for row in section.rows)
        ]
        lines += set_in_columns(columns, screen, indent=INDENT)
        if len(section.parts) <= FEW:
            lines += [line for part in section.parts for line in _said(part, screen)]
    kinds = ", ".join(section.words[0] for section in sections)
    lines += [
        "",
        *screen.paragraph(f"vanwater stock WORD lists one kind ({kinds}), or the rows with that word.", "dim"),
    ]
    return lines


def _meant(sections: Sequence[_Section], word: str) -> Iterator[_Section]:
    wanted = word.casefold().split()
    if not wanted:
        yield from sections
        return
    whole = [section for section in sections if " ".join(wanted) in section.words]
    if whole:
        yield from whole
        return
    for section in sections:
        rows = tuple(row for row in section.rows if all(part in " ".join(row).casefold() for part in wanted))
        named = {row[0] for row in rows}
        if rows:
            yield replace(section, rows=rows, parts=tuple(part for part in section.parts if part.name in named))


def _unknown(word: str, sections: Sequence[_Section]) -> RefusedError:
    kinds = tuple(known for section in sections for known in section.words)
    names = tuple(row[0] for section in sections for row in section.rows)
    close = nearest(word, kinds) or nearest(word, names)
    meant = f' Did you mean "{close}"?' if close else ""
    listed = ", ".join(section.words[0] for section in sections)
    return RefusedError(f'Nothing in the stock answers to "{word}".{meant}\nThe kinds are {listed}.')


def _sections(shelf: Shelf, us: bool) -> Iterator[_Section]:
    yield _Section(
        ("sizes", "size", "pipes", "pipe", "hoses", "hose"),
        "Sizes of hose and pipe, for a run's size",
        ("size", "what it is", "bore", "stands", "up to", "joined by"),
        tuple(
            (
                row.key,
                retold(row.name, us),
                BORE.text(row.bore, us),
                PRESSURE.text(row.rated_pressure, us) if row.rated_pressure is not None else "no pressure",
                TEMPERATURE.text(row.hottest, us),
                ", ".join(row.joint),
            )
            for row in pipes().values()
        ),
    )
    yield _Section(
        ("fittings", "fitting"),
        "Fittings, for a run's fittings with how many of each",
        ("fitting", "what it is", "takes", "joint"),
        tuple((row.key, retold(row.name, us), _loss(row, us), row.joint) for row in fittings().values()),
    )
    yield _Section(
        ("outlets", "outlet"),
        "Outlets, for an outlet's type",
        ("outlet", "what it is", "gives"),
        tuple(
            (row.key, retold(row.name, us), f"{FLOW.text(row.flow, us)} at {PRESSURE.text(row.at, us)}")
            for row in outlets().values()
        ),
    )
    yield _Section(
        ("habits", "habit", "uses", "use"),
        "Ready habits, for the household's habits, and the uses they bring",
        ("habit", "use", "how often", "how much", "where to"),
        tuple(_uses(us)),
    )
    yield _Section(
        ("joints", "joint", "threads", "thread"),
        "Joints and threads, for joint, start_joint and end_joint with their size",
        ("joint", "what it is", "on"),
        tuple((row.key, retold(row.name, us), ", ".join(row.on)) for row in joints().values()),
    )
    yield _Section(
        ("materials", "material"),
        "Materials, for a tank's material",
        ("material", "what it is", "conducts"),
        tuple((row.key, retold(row.name, us), CONDUCTIVITY.text(row.conductivity, us)) for row in materials().values()),
    )
    for kind in STOCKED:
        held = tuple(shelf.held(kind).values())
        if held:
            words = (f"own {kind}",) if kind in ("fittings", "outlets") else (kind, kind.removesuffix("s"))
            named = (
                "a run's fittings" if kind == "fittings" else f'[{kind}{"" if kind in SINGLE else ".…"}] stock = "name"'
            )
            bases = {part.basis for part in held}
            basis = f" ({bases.pop()})" if len(bases) == 1 else ""
            yield _Section(
                words,
                f"{kind.capitalize()}, for {named}{basis}",
                ("name", "what it is", "weighs", "costs", "values from"),
                tuple(_part(part, us, not basis) for part in held),
                held,
            )


def _said(part: StockPart, screen: Screen) -> list[str]:
    """A part as a plan would write it."""
    import tomlkit

    said = [f"{key} = {tomlkit.item(value).as_string()}" for key, value in part.fields.items()]
    return ["", *screen.hanging([f"  {part.name}:", *(f"    {line}" for line in said)])]


def _part(part: StockPart, us: bool, basis: bool) -> tuple[str, ...]:
    mass = MASS.text(part.mass, us) if part.mass is not None else ""
    price = MONEY.text(part.price) if part.price is not None else ""
    return part.name, part.told(us), mass, price, part.basis if basis else ""


def _loss(row: FittingRow, us: bool) -> str:
    if row.k is not None:
        return f"K {row.k:g}"
    if row.length_in_bores is not None:
        return f"{row.length_in_bores:g} bores of length"
    if row.equivalent_length is not None:
        return f"{LENGTH.text(row.equivalent_length, us)} of its pipe"
    if row.loss is not None and row.loss_at is not None:
        return f"{PRESSURE.text(row.loss, us)} at {FLOW.text(row.loss_at, us)}"
    return ""


def _uses(us: bool) -> Iterator[tuple[str, ...]]:
    for habit in HABITS:
        for use, said in habits(habit).items():
            often = f"{said['a_day']}, each {said.get('per', 'person')}"
            much = str(said["volume"]) if "volume" in said else f"{said.get('flow')} for {said.get('duration')}"
            yield habit, use, often, retold(much, us), str(said.get("to", "grey"))
