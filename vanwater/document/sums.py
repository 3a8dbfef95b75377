"""The sums of a document: every step behind a number that it shows once, numbered, each knowing what it is made of."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Amount, Range
from vanwater.answers.core.working import Piece, Shown, Step
from vanwater.document.sources import Named, Sources
from vanwater.document.words import Words

__all__ = ["Put", "Sum", "Sums"]


@dataclass(frozen=True, slots=True)
class Put:
    """One thing that was put into a sum.

    Parameters
    ----------
    symbol, meaning : str
        Its letter in the formula, and what it is.
    value : Amount, Range, Say or str
        What was put in.
    sum : int
        Number of the sum that it is the result of; 0 where it is none's.
    """

    symbol: str
    meaning: str
    value: Shown | str
    sum: int

    @property
    def amount(self) -> bool:
        """Whether it is a number that can be set right."""
        return isinstance(self.value, Amount | Range)


@dataclass(frozen=True, slots=True)
class Sum:
    """A number with its sum, as the appendix prints it.

    Parameters
    ----------
    number : int
        Its number in the appendix.
    answer : str
        Key of the answer that needs it first.
    step : Step
        Formula, result, note.
    given, facts : tuple of Put
        What was put in, and what else belongs beside it.
    source : Named or None
        Where the formula comes from.
    """

    number: int
    answer: str
    step: Step
    given: tuple[Put, ...]
    facts: tuple[Put, ...]
    source: Named | None


class Sums:
    """The sums of all answers; two steps that say the same are one sum.

    Parameters
    ----------
    answers : iterable of Answer
        In the order in which they are told.
    words : Words
        What writes them.
    sources : Sources
        Where their sources are noted.
    asked : Sums, optional
        The sums of the same answers while the document was laid out a first time: only those that were asked for
        then, and those they are made of, are kept and numbered. All without it.
    """

    def __init__(self, answers: Iterable[Answer], words: Words, sources: Sources, asked: Sums | None = None) -> None:
        self._words = words
        self._kinds: dict[int, int] = {} if asked is None else asked._kinds
        self._said: dict[tuple[object, ...], int] = {} if asked is None else asked._said
        self._kept = None if asked is None else asked._wanted()
        self._asked: set[int] = set()
        self._numbers: dict[int, int] = {}
        self._results: dict[str, dict[tuple[str, float], list[int]]] = {}
        self._keyed: dict[tuple[str, str], int] = {}
        answers = tuple(answers)
        found = [(answer.key, one) for answer in answers for one in self._met(answer)]
        self.each: tuple[Sum, ...] = tuple(
            Sum(
                self._numbers[self._alike(one)],
                answer,
                one,
                tuple(self._put(piece) for piece in one.given),
                tuple(self._put(piece) for piece in one.facts),
                sources.named(one.source),
            )
            for answer, one in found
        )
        for answer in answers:
            self._index(answer)

    def number(self, step: Step) -> int:
        """The number of a step's sum."""
        return self._numbers[self._alike(step)]

    def behind(
        self, answer: str, key: str, values: Iterable[Amount | Range | None] = (), names: Iterable[str] = ()
    ) -> tuple[Sum, ...]:
        """The sums behind a finding, a row or a sentence.

        Parameters
        ----------
        answer : str
            Key of the answer that says it.
        key : str
            Its own key, which may be that of a number.
        values : iterable of Amount, Range or None
            The numbers that it names; those that are results of sums of this answer are found again.
        names : iterable of str
            What it speaks of: of several sums with the same number, those that speak of it too are meant.

        Returns
        -------
        tuple of Sum
            Each once, in the order of the appendix.
        """
        found = {self._keyed[answer, key]} if (answer, key) in self._keyed else set()
        results = self._results.get(answer, {})
        spoken = [name for name in names if name]
        for value in values:
            alike = results.get(_place(value), []) if value is not None else []
            meant = [number for number in alike if any(name in self.each[number - 1].step.name for name in spoken)]
            found.update(meant if len(alike) > 1 and meant else alike[:1])
        self._asked |= found
        return tuple(self.each[number - 1] for number in sorted(found))

    def of(self, answer: str) -> tuple[Sum, ...]:
        """The sums that an answer was the first to need."""
        return tuple(one for one in self.each if one.answer == answer)

    def _met(self, answer: Answer) -> Iterator[Step]:
        """Steps that were not met before, each before those it is made of."""
        for top in answer.numbers.values():
            for _, one in top.walk():
                kind = self._alike(one)
                if kind not in self._numbers and (self._kept is None or kind in self._kept):
                    self._numbers[kind] = len(self._numbers) + 1
                    yield one

    def _index(self, answer: Answer) -> None:
        """Which sums an answer's numbers can be found in again: its own numbers first, then what they are made of."""
        results: dict[tuple[str, float], list[int]] = {}
        tops = list(answer.numbers.values())
        for one in (*tops, *(inner for top in tops for _, inner in top.walk())):
            if not isinstance(one.result, Amount | Range) or self._alike(one) not in self._numbers:
                continue
            place, number = _place(one.result), self.number(one)
            if math.isfinite(place[1]) and place[1] != 0 and number not in results.setdefault(place, []):
                results[place].append(number)
        self._results[answer.key] = results
        for key, top in answer.numbers.items():
            if self._alike(top) in self._numbers:
                self._keyed[answer.key, key] = self.number(top)

    def _wanted(self) -> frozenset[int]:
        """What was asked for, and all it is made of."""
        waiting, wanted = list(self._asked), set[int]()
        while waiting:
            number = waiting.pop()
            if number not in wanted:
                wanted.add(number)
                one = self.each[number - 1]
                waiting += [put.sum for put in (*one.given, *one.facts) if put.sum]
        return frozenset(kind for kind, number in self._numbers.items() if number in wanted)

    def _put(self, piece: Piece) -> Put:
        inner = piece.value if isinstance(piece.value, Step) else None
        value = inner.result if inner is not None else piece.value
        assert not isinstance(value, Step)
        meaning = piece.meaning or piece.name
        return Put(piece.symbol, meaning, value, self.number(inner) if inner is not None else 0)

    def _alike(self, step: Step) -> int:
        """What two steps share when they say the same, whatever objects they are."""
        known = self._kinds.get(id(step))
        if known is None:
            pieces = tuple(
                (piece.name, piece.symbol, self._alike(piece.value))
                if isinstance(piece.value, Step)
                else (piece.name, piece.symbol, self._words.bare(piece.value))
                for piece in (*step.given, *step.facts)
            )
            told = (step.name, step.meaning, step.formula, step.source, step.note, self._words.bare(step.result))
            number = repr(step.value.item(0)) if step.value.size else ""
            known = self._kinds[id(step)] = self._said.setdefault((*told, number, pieces), len(self._said))
        return known


def _place(value: Amount | Range) -> tuple[str, float]:
    """Unit and number, to twelve digits: the same sum done in another order is the same number."""
    number = value.likely if isinstance(value, Range) else value.value
    return value.quantity.si, float(f"{number:.12g}")
