"""What a command cannot do, told in plain words on the error stream; the program then ends with 2."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TextIO

from vanwater.answers.core.statement import harmless
from vanwater.plan.problems import PlanError
from vanwater.terminal.transliteration import spelled

__all__ = ["RefusedError", "complaint", "problems"]


MOST = 50
"""Problems that are told; a file with more is not mended line by line."""


class RefusedError(Exception):
    """Something that was asked and cannot be done.

    Parameters
    ----------
    message : str
        What is wrong and what to do, one or more lines.
    """


def problems(error: PlanError) -> list[str]:
    """A plan's problems, one a line, and their count.

    Parameters
    ----------
    error : PlanError
        From reading a plan.

    Returns
    -------
    list of str
        The lines.
    """
    count = len(error.problems)
    summary = f"{count} problem{'' if count == 1 else 's'}; nothing was computed."
    if count > MOST:
        summary = f"{count} problems, the first {MOST} of them told; nothing was computed."
    return [*(str(problem) for problem in error.problems[:MOST]), summary]


def complaint(lines: Sequence[str], stream: TextIO) -> str:
    """Lines for the error stream, harmless and in letters that it can show.

    Parameters
    ----------
    lines : sequence of str
        One problem a line; never broken, so that other programs can read them.
    stream : text stream
        Standard error.

    Returns
    -------
    str
        The text, its last line ended.
    """
    escape = harmless("terminal")
    encoding = stream.encoding or "utf-8"
    told = []
    for line in lines:
        indent = len(line) - len(line.lstrip(" "))
        told.append(f"{' ' * indent}{spelled(escape(line), encoding)}\n")
    return "".join(told)
