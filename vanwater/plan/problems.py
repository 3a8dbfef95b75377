"""What is wrong with a plan, said so that one can mend it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from vanwater.quantities import NO_BREAK, THOUSANDS

__all__ = ["PlanError", "Problem", "joined", "shown"]

LONGEST = 60
"""Letters of a value that a message shows."""

_SPACES = (NO_BREAK, THOUSANDS)


def shown(value: object) -> str:
    """A value as one harmless short line, as the file would write it.

    Parameters
    ----------
    value : object
        Whatever stands in the file.

    Returns
    -------
    str
        Texts in quotation marks, control characters as "?".
    """
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, Mapping):
        return "A table"
    if isinstance(value, list | tuple):
        return "A list"
    try:
        text = value[: 2 * LONGEST] if isinstance(value, str) else str(value)
    except ValueError:
        text = "A number of thousands of digits"
    text = _short(_harmless(text))
    return f'"{text}"' if isinstance(value, str) else text


def joined(place: Iterable[object]) -> str:
    """The address of a place: its names joined by dots, control characters as "?"."""
    return _harmless(".".join(str(name) for name in place))


def _short(text: str, longest: int = LONGEST) -> str:
    return f"{text[:longest]}…" if len(text) > longest else text


def _harmless(text: str) -> str:
    if text.isprintable():
        return text
    return "".join(letter if letter.isprintable() or letter in _SPACES else "?" for letter in text)


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing wrong in a plan.

    Parameters
    ----------
    address : str
        Where: "tanks.fresh.capacity"; empty for the file as a whole.
    message : str
        What is wrong, with the value as it was written.
    expected : str
        What was expected.
    slip : str
        The likely slip and its mend, or an empty text.
    file : str
        Name of the file, or an empty text for a plan made in Python.
    line : int or None
        Line of the statement, counted from 1; the table's header for a missing field.
    """

    address: str
    message: str
    expected: str = ""
    slip: str = ""
    file: str = ""
    line: int | None = None

    def at(self, file: str, line: int | None) -> Problem:
        """The same problem with its place in a file."""
        return replace(self, file=shown(file)[1:-1], line=line)

    def __str__(self) -> str:
        place = ":".join(str(part) for part in (self.file, self.line) if part)
        where = " ".join(part for part in (place, _short(self.address, 3 * LONGEST)) if part)
        expected = f"Expected {self.expected}." if self.expected else ""
        told = " ".join(part for part in (self.message, expected, self.slip) if part)
        return f"{where}: {told}" if where else told


class PlanError(ValueError):
    """A plan that cannot be used, with every problem found.

    Parameters
    ----------
    problems : iterable of Problem
        All of them, in the order of the file.
    """

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems: Sequence[Problem] = tuple(
            sorted(problems, key=lambda problem: (problem.line is None, problem.line or 0, problem.address))
        )
        super().__init__("\n".join(str(problem) for problem in self.problems))
