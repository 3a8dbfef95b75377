"""The whole document before it is a page: sections, sums, sources, the plan, in the order in which they are read."""

from __future__ import annotations

import datetime as dt
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Protocol

from vanwater.answers.core.answer import Assumption, Caution, gravest_first
from vanwater.answers.core.cautions import ESTIMATE
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Amount, Say
from vanwater.answers.core.working import planned
from vanwater.answers.missing import Missing, missing, not_whole
from vanwater.answers.situations import cautions_there, further, otherwise
from vanwater.document.first_page import KeyNumber, key_numbers, to_know
from vanwater.document.plan_listing import Listing, Value, differing, listings
from vanwater.document.plumbing import Plumbing, plumbing
from vanwater.document.sections import FindingEntry, Section, sections
from vanwater.document.sheets import Sheet, laid_out
from vanwater.document.sources import Named, Sources
from vanwater.document.stock import Stock, stock
from vanwater.document.sums import Formula, Sums
from vanwater.document.undecided import Open, still_open
from vanwater.document.validation import held_against, held_against_table
from vanwater.document.words import Words, dated
from vanwater.plan.model import Plan
from vanwater.quantities import STAY

if TYPE_CHECKING:
    from vanwater.answers.core.chart import Chart

__all__ = ["Asked", "Book", "Situated", "book"]


class Asked(Protocol):
    """What a document is made of: a plan and the answers to it."""

    @property
    def plan(self) -> Plan:
        """The plan that was asked."""

    @property
    def each(self) -> Mapping[str, Answer]:
        """The answers, by question."""

    @property
    def situations(self) -> Mapping[str, Mapping[str, Answer]]:
        """The answers in each situation of the plan, by its name."""

    def read_in(self, us: bool) -> Asked:
        """The same for who reads another system of units."""


@dataclass(frozen=True, slots=True)
class Situated:
    """What a situation of the plan changes.

    Parameters
    ----------
    name : str
        As the plan calls it.
    values : tuple of Value
        What it has in the place of the plan's own values.
    verdicts : tuple of Say
        Its headline, then the verdicts that are other ones there.
    findings : tuple of Finding
        What fails there, and each danger to be watched, that the plan as it is written does not say.
    cautions : tuple of Caution
        The grave ones that it alone raises.
    """

    name: str
    values: tuple[Value, ...]
    verdicts: tuple[Say, ...]
    findings: tuple[Finding, ...]
    cautions: tuple[Caution, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Book:
    """Everything that stands in a document.

    Parameters
    ----------
    plan : Plan
        The plan.
    words : Words
        What writes it.
    date : str
        The day in words.
    sections : tuple of Section
        The answers.
    key_numbers : tuple of KeyNumber
        The numbers of the first page.
    plumbing : Plumbing or None
        The drawing of the plumbing with its lists; None while there is none.
    missing : tuple of Missing
        What keeps the plan from being whole.
    to_know : tuple of FindingEntry
        What to know first: all that fails, every danger to be watched.
    situations : tuple of Situated
        The same van in other situations.
    formulas : tuple of (str, tuple of Formula)
        The appendix of the sums, by the answer that needs them first.
    listings : tuple of Listing
        The plan as decided.
    cautions : tuple of (Caution, int)
        The grave ones of all answers, the gravest first, each with the section that tells it in full.
    limits : str
        What the document can and cannot decide.
    undecided : tuple of FindingEntry
        Findings that say what is not decided yet.
    open : tuple of Open
        Fields and parts about which the plan says nothing.
    stock : tuple of (Stock, Named or None)
        Rows of the tables of stock sizes, with their sources.
    sources : tuple of str
        All sources, in the order of their numbers.
    held_against : (Say, Sheet)
        The published cases that the sums were held against.
    """

    plan: Plan
    words: Words
    date: str
    sections: tuple[Section, ...]
    key_numbers: tuple[KeyNumber, ...]
    plumbing: Plumbing | None
    missing: tuple[Missing, ...]
    to_know: tuple[FindingEntry, ...]
    situations: tuple[Situated, ...]
    formulas: tuple[tuple[str, tuple[Formula, ...]], ...]
    listings: tuple[Listing, ...]
    cautions: tuple[tuple[Caution, int], ...]
    limits: str
    undecided: tuple[FindingEntry, ...]
    open: tuple[Open, ...]
    stock: tuple[tuple[Stock, Named | None], ...]
    sources: tuple[str, ...]
    held_against: tuple[Say, Sheet]

    @property
    def not_whole(self) -> Say:
        """The sentence above what is missing."""
        return not_whole(len(self.missing))

    @property
    def wanted(self) -> Amount | None:
        """The days that the household wants to stay out."""
        wanted = planned(self.plan, "household.days_wanted", STAY)
        return None if math.isnan(wanted.value) else wanted.amount


def book(asked: Asked, words: Words, date: dt.date, charts: Mapping[str, Sequence[Chart]]) -> Book:
    """Put a document together.

    Parameters
    ----------
    asked : Answers
        A plan and its answers.
    words : Words
        What writes it, metric or US.
    date : datetime.date
        The day on the document.
    charts : mapping of str to sequence of Chart
        By question.

    Returns
    -------
    Book
        Everything numbered; the same for the same answers.
    """
    answers = tuple(asked.each.values())
    sources = Sources(words.us)
    for answer in answers:  # the list follows the sections as they are read; those of the sums alone come last
        said: list[Caution | Finding | Assumption] = [*answer.cautions, *answer.findings, *answer.assumptions]
        for part in said:
            sources.named(part.source)
    sums = Sums(answers, words, sources)
    numbered = sections(answers, words, charts, sums, sources)
    findings = {id(entry.finding): entry for section in numbered for entry in section.findings}
    undecided = [entry for entry in findings.values() if entry.finding.verdict is Verdict.NOT_DECIDED]
    rows = tuple((row, sources.named(row.source)) for row in stock(asked.plan))
    return Book(
        plan=asked.plan,
        words=words,
        date=dated(date, words.us),
        sections=numbered,
        key_numbers=key_numbers(answers),
        plumbing=plumbing(asked, words, sums),
        missing=missing(asked.plan),
        to_know=tuple(findings[id(finding)] for _, finding in to_know(answers)),
        situations=tuple(_situated(asked, name, there) for name, there in asked.situations.items()),
        formulas=tuple(sums.by_answer()),
        listings=listings(asked.plan, words),
        cautions=tuple(
            (caution, next(section.number for section in numbered if caution.key in _keys(section)))
            for caution in gravest_first(caution for answer in answers for caution in answer.cautions)
            if caution.grave
        ),
        limits=str(ESTIMATE.text),
        undecided=tuple(undecided),
        open=still_open(asked.plan),
        stock=rows,
        sources=tuple(sources.texts),
        held_against=(held_against(), laid_out(held_against_table(), words, sums)),
    )


def _situated(asked: Asked, name: str, there: Mapping[str, Answer]) -> Situated:
    base, first = asked.each, next(iter(there.values()))
    others = (answer.verdict for answer in otherwise(base, there) if answer is not first)
    findings = tuple(finding for finding, _ in further(base, there))
    cautions = cautions_there(base, there)
    return Situated(name, differing(asked.plan, name), (first.verdict, *others), findings, cautions)


def _keys(section: Section) -> set[str]:
    return {entry.caution.key for entry in section.cautions}
