"""One number unfolded to its sum; every key that can be unfolded; the nearest ones to a key that is none."""

from __future__ import annotations

import difflib
from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

from rich.text import Text

from vanwater.answers.core.finding import Finding
from vanwater.answers.core.gathered import numbers_in
from vanwater.answers.core.key import key_text
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import harmless, say
from vanwater.answers.core.table import Column, Table
from vanwater.terminal.refusal import RefusedError
from vanwater.terminal.screen import Screen
from vanwater.terminal.tables import set_in_columns, strips

if TYPE_CHECKING:
    from vanwater.answers.questions import Answers

__all__ = ["found", "judged_by", "keys", "numbers_of", "unfolded", "unknown"]

NEAREST = 5
MOST_TOLD = 12


def numbers_of(answers: Answers) -> Mapping[str, Number]:
    """Every number of every answer that can be unfolded, by key."""
    return answers.numbers


def judged_by(answers: Answers) -> Mapping[str, Finding]:
    """Every finding that speaks of a number, by its key, so that the number can be unfolded by it."""
    return {finding.key: finding for answer in answers.values() for finding in answer.findings if _behind(finding)}


def found(finding: Finding, screen: Screen) -> list[str]:
    """A finding, and the sums of the numbers that it speaks of.

    Parameters
    ----------
    finding : Finding
        One that speaks of a number.
    screen : Screen
        Width, units and letters.

    Returns
    -------
    list of str
        Its verdict and sentence, then each number once.
    """
    lines = screen.paragraph(say("{verdict}: {told}", verdict=str(finding.verdict), told=finding.statement))
    for number in _behind(finding):
        lines += ["", *unfolded(key_text(number.key), number, screen)]
    return lines


def _behind(finding: Finding) -> tuple[Number, ...]:
    """The numbers that a finding speaks of, each once, what it judges first."""
    spoken = numbers_in(finding.value, finding.statement, finding.limit)
    return tuple({number.key: number for number in spoken if number.key}.values())


def unfolded(key: str, number: Number, screen: Screen) -> list[str]:
    """A number with its whole sum.

    Parameters
    ----------
    key : str
        Its key.
    number : Number
        The number.
    screen : Screen
        Width, units and letters.

    Returns
    -------
    list of str
        The number first, then what it was made of as an indented tree, its key last.
    """
    first, *rest = number.lines(screen.us, harmless("terminal"))
    return [
        *screen.hanging([first], "bold"),
        *screen.hanging(rest),
        "",
        *screen.lines(Text(screen.words(f"Key: {key}"), style="dim")),
    ]


def keys(answers: Answers, screen: Screen) -> list[str]:
    """Every number that can be unfolded: its key, its value, what it is.

    Parameters
    ----------
    answers : Answers
        All answers to a plan.
    screen : Screen
        Width, units and letters.

    Returns
    -------
    list of str
        The lines.
    """
    numbers = numbers_of(answers)
    if not numbers:
        return screen.paragraph("Nothing is decided yet, so there is no number to unfold.")
    rows = tuple((key, number.result) for key, number in numbers.items())
    table = Table("keys", say("Keys."), (Column("key"), Column("number")), rows)
    tail = "A key, a part of one or words that only one number has will do. So will an address of the plan, such as "
    return [
        *set_in_columns(strips(table, screen), screen),
        "",
        *screen.paragraph(Text(screen.held(f"{tail}household.people."), style="dim")),
    ]


def unknown(wanted: str, meant: tuple[str, ...], known: Iterable[str]) -> RefusedError:
    """What to say to a key that is none, or that is the part of several.

    Parameters
    ----------
    wanted : str
        What somebody typed.
    meant : tuple of str
        The keys that it may mean.
    known : iterable of str
        All keys and addresses.

    Returns
    -------
    RefusedError
        To be raised.
    """
    if meant:
        head = f'"{wanted}" may mean {len(meant)} keys:'
        listed, left = meant[:MOST_TOLD], len(meant) - MOST_TOLD
    else:
        head = f'There is no number and no address "{wanted}".'
        listed, left = tuple(_nearest(wanted, tuple(known))), 0
        head += " The nearest are:" if listed else ""
    lines = [head, *(f"  {key}" for key in listed)]
    if left > 0:
        lines.append(f"  and {left} more")
    return RefusedError("\n".join([*lines, "--why without a key lists all."]))


def _nearest(wanted: str, known: tuple[str, ...]) -> list[str]:
    """The keys most like a misspelt one, by themselves or by their last parts."""

    def likeness(key: str) -> float:
        parts = key.split(".")
        ends = (".".join(parts[start:]) for start in range(len(parts)))
        return max(difflib.SequenceMatcher(None, wanted.casefold(), end.casefold()).ratio() for end in ends)

    close = sorted(((likeness(key), key) for key in known), key=lambda pair: (-pair[0], pair[1]))
    return [key for like, key in close[:NEAREST] if like > 0.5]
