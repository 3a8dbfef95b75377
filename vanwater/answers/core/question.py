"""A question of the trade as one record, and what an answer to it is.

Terminal, document, panels and JSON loop over these records and know no question by its type or name: a question
lives in one folder, and adding one touches that folder and one line of :mod:`vanwater.answers.questions`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property
from typing import Any, Generic, TypeAlias

from typing_extensions import TypeVar

from vanwater.answers.core.agreed import settled
from vanwater.answers.core.amount import Amount, Range
from vanwater.answers.core.answer import Assumption, Caution, gravest_first
from vanwater.answers.core.chart import Bars, Chart
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.handover import Handed
from vanwater.answers.core.key import key_text
from vanwater.answers.core.listing import FindingList, Numbers
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import Count, Given, Say, harmless, say
from vanwater.answers.core.table import Table
from vanwater.answers.core.terms import Term
from vanwater.plan.model import Plan

__all__ = [
    "Answer",
    "Charts",
    "Compared",
    "Controls",
    "Fits",
    "Question",
    "by_key",
    "first_told",
    "numbers_in",
    "together",
    "told_of",
]

A = TypeVar("A", bound="Answer", default="Answer", contravariant=True)

Charts: TypeAlias = "Mapping[str, Callable[[A], Chart | None]]"
"""What draws each chart of an answer, by key, the most important first; None where there is nothing to draw yet."""

Controls: TypeAlias = "Callable[[Plan, A], Iterable[str]]"
"""Gives the addresses that people turn first for an answer, the most important first."""

Fits: TypeAlias = Mapping[str, Mapping[str, str]]
"""Parts that the plan lacks and a control may fit: their fields, as the file would hold them, by address."""

_COUNTED = (str, int, Count)


@dataclass(frozen=True, slots=True)
class Compared:
    """A number of an answer that a van worked by hand holds too.

    Parameters
    ----------
    what : str
        What it is called beside the hand's value.
    key : str
        Its key, as it is typed.
    """

    what: str
    key: str


@dataclass(frozen=True, kw_only=True, eq=False)
class Question(Generic[A]):
    """A question that every plan can be asked.

    Parameters
    ----------
    key : str
        Its name: "stay", "weight".
    title : str
        The question in a few words.
    label : str
        The same in a word or two, for where there is little room; the title without it.
    answer : callable
        Answers it for a plan; ask by :meth:`ask`, so that the answer knows what it was asked.
    charts, on_demand : mapping of str to callable
        What draws the charts of an answer: those of every page, and those that are shown where they are asked for.
    controls : callable
        The addresses that people turn first.
    fits : callable
        Parts that a control may yet fit.
    worked : mapping of str to tuple of Compared
        What the vans worked by hand hold of it, by the words of their file; two where the hand gives two ends.
    cautions : tuple of Caution
        The cautions that belong to its numbers; an answer has those that the plan raises.
    terms : tuple of Term
        The trade's terms that belong to it alone.
    handover : callable
        What it adds to the pages that go with the van: living with it, faults, measurements.
    by_piece : callable
        Tables for the file alone: what every single piece does; none without it.
    glance : callable
        The numbers that tell it at a glance, beside those of the other questions; none without it.
    brief : bool
        Whether its verdict has a line of its own where the whole van is told at a glance.
    wet : bool
        Whether it asks of water that is there: then a drained van has no answer to it.
    """

    key: str
    title: str
    label: str = ""
    answer: Callable[[Plan], Answer]
    charts: Mapping[str, Callable[[A], Chart | None]] = field(default_factory=dict)
    on_demand: Mapping[str, Callable[[A], Chart | None]] = field(default_factory=dict)
    controls: Callable[[Plan, A], Iterable[str]] = lambda plan, answer: ()  # noqa: ARG005
    fits: Callable[[Plan, A], Fits] = lambda plan, answer: {}  # noqa: ARG005
    worked: Mapping[str, tuple[Compared, ...]] = field(default_factory=dict)
    cautions: tuple[Caution, ...] = ()
    terms: tuple[Term, ...] = ()
    handover: Callable[[Plan, A], Iterable[Handed]] = lambda plan, answer: ()  # noqa: ARG005
    by_piece: Callable[[A], Iterable[Table]] = lambda answer: ()  # noqa: ARG005
    glance: Callable[[A], Iterable[Number]] = lambda answer: ()  # noqa: ARG005
    brief: bool = True
    wet: bool = False

    def ask(self, plan: Plan) -> Answer:
        """The answer to this question about a plan; what is not decided yet is said in its findings."""
        if plan.measured:  # what was measured asks all the others once more: of one plan it is the same answer
            return plan.once(f"answer {self.key}", lambda: self._ask(plan))
        return self._ask(plan)

    def _ask(self, plan: Plan) -> Answer:
        if self.wet and plan.water.drained:
            nothing = Question[Any](key=self.key, title=self.title, label=self.label, answer=self.answer)
            return Answer(question=nothing, verdict=say("The water is drained."), decided=False)
        raised = gravest_first(caution for caution in self.cautions if caution.raised(plan))
        answer = self.answer(plan)
        if plan.agreed:
            answer = replace(answer, findings=settled(plan, answer.findings))
        return replace(answer, question=self, cautions=raised)


@dataclass(frozen=True, kw_only=True, eq=False, repr=False)
class Answer:
    """The answer to one question about one plan.

    Parameters
    ----------
    question : Question
        What was asked; :meth:`Question.ask` says it.
    verdict : Say
        The answer in one sentence with the number that matters.
    decided : bool
        Whether the plan says enough for an answer; if not, the findings say what is missing.
    findings : tuple of Finding
        Worst first.
    make_tables : callable
        Gives the tables, the most important first; asked when they are first read.
    make_numbers : callable
        Gives numbers that no table and no sentence shows but that belong to the question.
    assumptions : tuple of Assumption
        What was taken to be so.
    cautions : tuple of Caution
        What can hurt somebody, the gravest first; :meth:`Question.ask` gives those of the question that a plan raises.
    """

    question: Question[Any] = field(default_factory=lambda: _UNASKED)
    verdict: Say
    decided: bool = True
    findings: tuple[Finding, ...] = FindingList()
    make_tables: Callable[[], Iterable[Table]] = tuple
    make_numbers: Callable[[], Iterable[Number] | Mapping[str, Number]] = tuple
    assumptions: tuple[Assumption, ...] = ()
    cautions: tuple[Caution, ...] = ()

    def __init_subclass__(cls) -> None:
        """Keep every answer short to read, whatever it holds."""
        cls.__repr__ = Answer.__repr__  # type: ignore[method-assign]

    def __post_init__(self) -> None:
        object.__setattr__(self, "findings", FindingList(self.findings))

    @property
    def key(self) -> str:
        """Name of the question."""
        return self.question.key

    @property
    def title(self) -> str:
        """The question in a few words."""
        return self.question.title

    @property
    def label(self) -> str:
        """The question in a word or two."""
        return self.question.label or self.question.title

    @cached_property
    def tables(self) -> tuple[Table, ...]:
        """The numbers side by side, the most important table first."""
        return tuple(table for table in self.make_tables() if table.rows)

    @cached_property
    def pieces(self) -> tuple[Table, ...]:
        """The tables for the file alone."""
        return tuple(table for table in self.question.by_piece(self) if table.rows)

    @cached_property
    def numbers(self) -> Numbers:
        """Every number that it shows, and those behind it, by key in the order of the alphabet."""
        more = self.make_numbers()
        if isinstance(more, Mapping):
            return Numbers(more)
        return by_key(numbers_in(self.verdict, *self.findings, *self.tables), more)

    def chart(self, key: str = "") -> Chart | None:
        """One chart, also one that is shown only where it is asked for; the first that can be drawn without a key."""
        names = (key,) if key else (*self.question.charts, *self.question.on_demand)
        return next((chart for name in names if (chart := self._made(name)) is not None), None)

    @property
    def charts(self) -> tuple[Chart, ...]:
        """The charts of every page, the most important first; none where nothing is decided yet."""
        return tuple(chart for name in self.question.charts if (chart := self._made(name)) is not None)

    @cached_property
    def _drawn(self) -> dict[str, Chart | None]:
        return {}

    def _made(self, name: str) -> Chart | None:
        """A chart, made when it is first looked at."""
        make = {**self.question.charts, **self.question.on_demand}.get(name)
        if make is not None and name not in self._drawn:
            self._drawn[name] = make(self)
        return self._drawn.get(name)

    @property
    def silent(self) -> bool:
        """Whether there is nothing to tell, not even what is missing: then it has no place among the others."""
        return not (self.decided or self.findings or self.tables or self.numbers)

    @property
    def failing(self) -> bool:
        """Whether any finding fails."""
        return any(finding.verdict is Verdict.FAILS for finding in self.findings)

    def __repr__(self) -> str:
        return f"<{self.title}: {self.verdict.text().rstrip('.')}>"

    def _repr_html_(self) -> str:
        told = self.findings if isinstance(self.findings, FindingList) else FindingList(self.findings)
        return f"<p><b>{self.title}.</b> {self.verdict.text(False, harmless('html'))}</p>{told._repr_html_()}"


def first_told(answer: Answer) -> Iterator[Number]:
    """The number that a verdict tells first."""
    yield from tuple(numbers_in(answer.verdict))[:1]


def told_of(*keys: str) -> Callable[[Answer], Iterator[Number]]:
    """What gives the numbers of some keys, as they are typed, of an answer that has them."""

    def told(answer: Answer) -> Iterator[Number]:
        yield from (answer.numbers[key] for key in keys if key in answer.numbers)

    return told


_UNASKED: Question[Any] = Question(key="", title="", answer=lambda _: Answer(verdict=Say("")))
"""Of an answer that nobody asked for by its question."""


def by_key(*several: Iterable[Number]) -> Numbers:
    """Numbers by their keys as they are typed, in the order of the alphabet.

    Raises
    ------
    ValueError
        When two numbers of one key differ.
    """
    return _together((key_text(number.key), number) for numbers in several for number in numbers if number.key)


def together(several: Iterable[Mapping[str, Number]]) -> Numbers:
    """Numbers of several answers as one mapping, in the order of the alphabet.

    A thing that two show is held once, by the one that knows its range.

    Raises
    ------
    ValueError
        When two numbers of one key differ.
    """
    return _together(pair for numbers in several for pair in numbers.items())


def _together(pairs: Iterable[tuple[str, Number]]) -> Numbers:
    keyed: dict[str, Number] = {}
    for key, number in pairs:
        other = keyed.setdefault(key, number)
        if other is number:
            continue
        if repr(other.likely) != repr(number.likely):
            raise ValueError(f"{key}: held twice, as {other.likely!r} and as {number.likely!r}")
        if other.range is None and number.range is not None:
            keyed[key] = number
    return Numbers(dict(sorted(keyed.items())))


def numbers_in(*shown: Finding | Table | Chart | Given | None) -> Iterator[Number]:
    """Every number that findings, tables, charts and sentences show.

    Parameters
    ----------
    *shown : Finding, Table, Chart, Say, Amount, Range, Number
        What is shown.

    Yields
    ------
    Number
        In the order in which they are shown; what is no number of a key and a sum is passed over.
    """
    for thing in shown:
        if thing is None or isinstance(thing, _COUNTED):
            continue
        if isinstance(thing, Number):
            yield thing
        elif isinstance(thing, Amount | Range):
            if thing.number is not None:
                yield thing.number
        elif isinstance(thing, Say):
            yield from numbers_in(*(given for _, given in thing.given))
        elif isinstance(thing, tuple):
            yield from numbers_in(*thing)
        elif isinstance(thing, Finding):
            yield from numbers_in(thing.statement, thing.value, thing.limit, thing.change, thing.gain)
        elif isinstance(thing, Table):
            yield from numbers_in(thing.caption, *(cell for row in thing.rows for cell in row), thing.note)
        elif isinstance(thing, Chart):
            yield from numbers_in(thing.title, thing.sentence)
            for draw in thing.draws:
                yield from numbers_in(getattr(draw, "label", None))
                yield from draw.numbers if isinstance(draw, Bars) else ()
