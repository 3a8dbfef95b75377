"""What each piece of a plumbing drawing is called, and what stands below its name."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from vanwater.answers.core.key import key_text
from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.working import planned
from vanwater.figures.schematic.parts import KINDS, Asked, Piece
from vanwater.plan.model import Plan
from vanwater.plan.problems import joined
from vanwater.plan.tables import fittings
from vanwater.quantities import POWER, PRESSURE, VOLUME, Quantity
from vanwater.system.numbering import RIDING

__all__ = ["kind_of", "of_answers", "of_plan", "place_of", "riding"]

_LONG = len("spring check valve")
"""Letters of a name that is told in full; a longer one gives way to its kind."""


def riding(plan: Plan, name: str) -> Iterator[Piece]:
    """The pieces that ride on a run, in the order of the file, without their numbers.

    Parameters
    ----------
    plan : Plan
        The plan.
    name : str
        Of the run.

    Yields
    ------
    Piece
        One for each fitting that is drawn.
    """
    for key, count in plan.runs[name].fittings.items():
        row = fittings().get(key)
        kind = "own" if row is None else row.kind
        if count and (row is None or kind in RIDING):
            short = key if len(key) <= _LONG or row is None else KINDS.get(kind, kind)
            about = (say("{count} of them", count=str(count)),) if count > 1 else ()
            yield Piece(key=joined(("runs", name, "fittings", key)), number=0, kind=kind, name=short, about=about)


def place_of(asked: Asked, name: str, table: str, number: int) -> Piece:
    """A part of the plan as a piece.

    Parameters
    ----------
    asked : Answers
        A plan and its answers.
    name, table : str
        The part, and the table in which it stands.
    number : int
        On the drawing.

    Returns
    -------
    Piece
        With what a plumber wants to read beside it.
    """
    plan, part = asked.plan, getattr(asked.plan, table)[name]
    at = joined((table, name))
    kind = kind_of(table, part)
    about: list[Say] = []
    holds = ""
    if table == "tanks":
        holds = part.holds
        about += of_answers(asked, "{it} usable", ("tank", name, "usable"))
        about += [
            say("{power} pad", power=planned(plan, joined(("pads", pad, "power")), POWER).amount)
            for pad, heating in plan.pads.items()
            if heating.tank == name and heating.power is not None
        ]
    elif table == "pumps":
        if part.kind != "diaphragm":
            about.append(say("{kind}", kind=part.kind))
        if part.cut_in is not None and part.cut_out is not None:
            ends = {end: planned(plan, f"{at}.{end}", PRESSURE).amount for end in ("cut_in", "cut_out")}
            about.append(say("{cut_in} to {cut_out}", **ends))
    elif table == "accumulators":
        about += of_plan(plan, at, "{it}", "volume", VOLUME)
        about += of_plan(plan, at, "gas {it}", "precharge", PRESSURE)
    elif table == "heaters":
        about += of_plan(plan, at, "{it}", "volume", VOLUME)
        about += of_plan(plan, at, "{it}", "power", POWER)
        about += of_plan(plan, at, "relief {it}", "relief", PRESSURE)
    elif table == "mains":
        about += of_plan(plan, at, "regulated to {it}", "regulator", PRESSURE)
    elif table == "outlets":
        about += of_answers(asked, "{it}", ("outlet", name, "flow"))
    return Piece(key=at, number=number, kind=kind, name=name, about=tuple(about), holds=holds)


def kind_of(table: str, part: object) -> str:
    """What kind of piece a part of the plan is: which symbol it has."""
    if table == "mixers" and getattr(part, "kind", "") == "thermostatic":
        return "thermostatic mixer"
    return "mains" if table == "mains" else table.removesuffix("s")


def of_plan(plan: Plan, at: str, words: str, field_name: str, quantity: Quantity) -> Sequence[Say]:
    """A value of a part as words with it in the place of "it"; nothing where it is not decided."""
    if getattr(plan.at(at), field_name, None) is None:
        return ()
    return (say(words, it=planned(plan, f"{at}.{field_name}", quantity).amount),)


def of_answers(asked: Asked, words: str, key: tuple[str, ...]) -> Sequence[Say]:
    """A number of the answers as words with it in the place of "it"; nothing where there is none."""
    text = key_text(key)
    for answer in asked.each.values():
        if text in answer.numbers:
            return (say(words, it=answer.numbers[text].amount),)
    return ()
