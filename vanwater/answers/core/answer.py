"""What every answer is: a verdict, tables, findings, numbers with their sums, assumptions, cautions.

Terminal, document and panels show these same objects and compute nothing, so none of them can drift from the
sums. An answer to a question of the trade is a subclass that adds what its charts need.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.statement import Say
from vanwater.answers.core.table import Table
from vanwater.answers.core.working import Step

__all__ = ["Answer", "Assumption", "Caution"]


@dataclass(frozen=True, slots=True)
class Assumption:
    """Something that was taken to be so.

    Parameters
    ----------
    key : str
        Short name.
    statement : Say
        What was assumed, and how far it may lie off.
    measure : str
        What to measure or decide to know it; empty where nothing can be done.
    source : str
        Published source or "common practice".
    address : str
        Where in the plan it can be said otherwise.
    """

    key: str
    statement: Say
    measure: str = ""
    source: str = ""
    address: str = ""


@dataclass(frozen=True, slots=True)
class Caution:
    """A warning that belongs beside a number.

    Parameters
    ----------
    key : str
        Short name; the same caution stands once on a page.
    text : str
        The warning in plain words.
    grave : bool
        Whether somebody can be hurt at once; a grave one is never folded away.
    source : str
        Published source or "common practice".
    short : str
        The warning in a few words, for where there is little room; the whole text without it.
    """

    key: str
    text: str
    grave: bool = False
    source: str = "common practice"
    short: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """The answer to one question about one plan.

    Parameters
    ----------
    key : str
        Name of the question: "autonomy", "supply".
    title : str
        The question in a few words.
    label : str
        The same in a word or two, for where there is little room; the title without it.
    verdict : Say
        The answer in one sentence with the number that matters.
    decided : bool
        Whether the plan says enough for an answer; if not, the findings say what is missing.
    tables : sequence of Table
        The numbers, the most important table first.
    findings : tuple of Finding
        Worst first.
    numbers : mapping of str to Step
        Every number that can be unfolded to its sum, by a stable key such as "autonomy.days.fresh".
    assumptions : tuple of Assumption
        What was taken to be so.
    cautions : tuple of Caution
        What can hurt somebody.
    """

    key: str
    title: str
    label: str = ""
    verdict: Say
    decided: bool = True
    tables: Sequence[Table] = ()
    findings: tuple[Finding, ...] = ()
    numbers: Mapping[str, Step] = field(default_factory=dict)
    assumptions: tuple[Assumption, ...] = ()
    cautions: tuple[Caution, ...] = ()

    @property
    def failing(self) -> bool:
        """Whether any finding fails."""
        return any(finding.verdict is Verdict.FAILS for finding in self.findings)
