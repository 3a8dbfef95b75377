"""The sections of a document: each answer with its charts, tables, findings, assumptions and cautions."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import zip_longest
from typing import TYPE_CHECKING

from vanwater.answers.core.answer import Assumption, Caution, gravest_first
from vanwater.answers.core.finding import Finding
from vanwater.answers.core.gathered import numbers_in
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.table import Table
from vanwater.document.pictures import Picture, pictures
from vanwater.document.sheets import Sheet, laid_out
from vanwater.document.sources import Named, Sources
from vanwater.document.sums import Sums
from vanwater.document.words import Words

if TYPE_CHECKING:
    from vanwater.answers.core.chart import Chart

__all__ = ["AssumptionEntry", "CautionEntry", "FindingEntry", "Section", "sections"]


@dataclass(frozen=True, slots=True)
class FindingEntry:
    """A finding with what stands behind it.

    Parameters
    ----------
    finding : Finding
        The finding.
    sums : tuple of int
        Numbers of the sums behind it.
    source : Named or None
        Where its limit comes from.
    section : int
        Number of the section that tells it in full.
    """

    finding: Finding
    sums: tuple[int, ...]
    source: Named | None
    section: int

    @property
    def room(self) -> Say | None:
        """Value, limit and the room between them, where both are known."""
        finding, side = self.finding, self.finding.side
        if finding.value is None or finding.limit is None or side is None:
            return None
        return say(
            "{value} against {bound} {limit}: {side}.",
            value=finding.value,
            bound=finding.bound,
            limit=finding.limit,
            side=side,
        )


@dataclass(frozen=True, slots=True)
class AssumptionEntry:
    """An assumption with its source.

    Parameters
    ----------
    assumption : Assumption
        The assumption.
    source : Named or None
        Where it comes from.
    number : int
        Its number among all assumptions.
    before : int
        Number of the section that has already said it; 0 where this one is the first.
    """

    assumption: Assumption
    source: Named | None
    number: int
    before: int


@dataclass(frozen=True, slots=True)
class CautionEntry:
    """A caution with its source.

    Parameters
    ----------
    caution : Caution
        The caution.
    source : Named or None
        Where it comes from.
    before : int
        Number of the section that tells it in full; 0 where this one does.
    """

    caution: Caution
    source: Named | None
    before: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """One answer, as it is told.

    Parameters
    ----------
    number : int
        Its number.
    answer : Answer
        The answer.
    sums : tuple of int
        Numbers of the sums behind its verdict.
    pictures : tuple of Picture
        Its charts.
    sheets : tuple of Sheet
        Its tables.
    pieces : tuple of Sheet
        Its tables for the file alone.
    rules : tuple of (str, tuple of (str, Named or None))
        How the numbers of those are worked out, as each row shows: a head, its formulas with their sources.
    findings : tuple of FindingEntry
        Its findings, worst first.
    assumptions : tuple of AssumptionEntry
        What was taken to be so.
    cautions : tuple of CautionEntry
        The cautions that belong to it, those of a section before in a few words.
    """

    number: int
    answer: Answer
    sums: tuple[int, ...]
    pictures: tuple[Picture, ...]
    sheets: tuple[Sheet, ...]
    pieces: tuple[Sheet, ...]
    rules: tuple[tuple[str, tuple[tuple[str, Named | None], ...]], ...]
    findings: tuple[FindingEntry, ...]
    assumptions: tuple[AssumptionEntry, ...]
    cautions: tuple[CautionEntry, ...]

    @property
    def shown(self) -> tuple[tuple[Picture | None, Sheet | None], ...]:
        """Charts and tables by turns, so that neither leaves the other a half-empty page."""
        return tuple(zip_longest(self.pictures, self.sheets))


def sections(
    answers: Sequence[Answer], words: Words, charts: Mapping[str, Sequence[Chart]], sums: Sums, sources: Sources
) -> tuple[Section, ...]:
    """Tell every answer.

    Parameters
    ----------
    answers : sequence of Answer
        In the order in which they are told.
    words : Words
        What writes them.
    charts : mapping of str to sequence of Chart
        By question.
    sums : Sums
        The sums of all answers.
    sources : Sources
        Where their sources are noted.

    Returns
    -------
    tuple of Section
        One each. A caution is told in full in the first section that has it, in a few words in the others.
    """
    numbered = []
    warned: dict[str, int] = {}
    assumed: dict[object, tuple[int, int]] = {}
    grave = {caution.key: caution for answer in answers for caution in answer.cautions if caution.grave}
    for number, answer in enumerate(answers, 1):
        cautions = gravest_first(grave.get(caution.key, caution) for caution in answer.cautions)
        for caution in cautions:
            warned.setdefault(caution.key, number)
        numbered.append(
            Section(
                number=number,
                answer=answer,
                sums=sums.behind(answer.verdict),
                pictures=pictures(charts.get(answer.key, ()), words),
                sheets=tuple(laid_out(table, words, sums) for table in answer.tables),
                pieces=tuple(laid_out(table, words, sums) for table in answer.pieces),
                rules=tuple(_rules(answer.pieces, sources)),
                findings=tuple(_finding_entry(finding, number, sums, sources) for finding in answer.findings),
                assumptions=tuple(
                    _assumption_entry(assumption, number, assumed, words, sources) for assumption in answer.assumptions
                ),
                cautions=tuple(
                    CautionEntry(caution, sources.named(caution.source), first if first != number else 0)
                    for caution in cautions
                    if (first := warned[caution.key])
                ),
            )
        )
    return tuple(numbered)


def _rules(tables: Sequence[Table], sources: Sources) -> Iterator[tuple[str, tuple[tuple[str, Named | None], ...]]]:
    """Formulas and sources of each column, told once: what is put into them stands in the row."""
    told: dict[str, dict[tuple[str, str], None]] = {}
    for table in tables:
        for column, cells in zip(table.columns, zip(*table.rows, strict=True), strict=True):
            for number in numbers_in(*(cell for cell in cells if not isinstance(cell, str))):
                if number.formula or number.facts:
                    told.setdefault(column.heading, {})[number.formula, number.source] = None
    for heading, rules in told.items():
        yield heading, tuple((formula, sources.named(source)) for formula, source in rules)


def _finding_entry(finding: Finding, number: int, sums: Sums, sources: Sources) -> FindingEntry:
    behind = sums.behind(finding.statement, finding.value)
    return FindingEntry(finding, behind, sources.named(finding.source), number)


def _assumption_entry(
    assumption: Assumption, number: int, before: dict[object, tuple[int, int]], words: Words, sources: Sources
) -> AssumptionEntry:
    said = (assumption.key, words.bare(assumption.statement))
    place, first = before.setdefault(said, (len(before) + 1, number))
    return AssumptionEntry(assumption, sources.named(assumption.source), place, first if first != number else 0)
