"""The sums of a document: every step behind a number that it shows once, numbered, each knowing what it is made of."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from vanwater.answers.core.finding import Finding
from vanwater.answers.core.number import Number
from vanwater.answers.core.pieces import Piece, Shown
from vanwater.answers.core.question import Answer, numbers_in
from vanwater.answers.core.statement import Amount, Given, Range
from vanwater.document.sources import Named, Sources
from vanwater.document.words import Words
from vanwater.quantities import retold

__all__ = ["Operand", "Sum", "Sums"]


@dataclass(frozen=True, slots=True)
class Operand:
    """One thing that was put into a sum.

    Parameters
    ----------
    symbol, meaning : str
        Its letter in the formula, and what it is.
    value : Amount, Range, Say or str
        What was put in.
    sum : int
        Number of the sum that it is the result of; 0 where it is none's.
    printed : bool
        Whether that sum stands on paper too.
    """

    symbol: str
    meaning: str
    value: Shown | str
    sum: int
    printed: bool

    @property
    def amount(self) -> bool:
        """Whether it is a number that can be set right."""
        return isinstance(self.value, Amount | Range)


@dataclass(frozen=True, slots=True, kw_only=True)
class Sum:
    """A number with its sum, as the appendix prints it.

    Parameters
    ----------
    number : int
        Its number in the appendix.
    answer : str
        Key of the answer that needs it first.
    step : Number
        Formula, result, note.
    given, facts : tuple of Operand
        What was put in, and what else belongs beside it.
    source : Named or None
        Where the formula comes from.
    printed : bool
        Whether it stands on paper too: what only tables and what is fine lead to, and what sums are
        made of, is for the screen.
    """

    number: int
    answer: str
    step: Number
    given: tuple[Operand, ...]
    facts: tuple[Operand, ...]
    source: Named | None
    printed: bool


class Sums:
    """The sums of all answers; two numbers that say the same are one sum.

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
        self._asked: set[int] = set()
        self._beside: set[int] = set()
        self._numbers: dict[int, int] = {}
        answers = tuple(answers)
        kinds = (None,) if asked is None else (asked._wanted(asked._asked, 0), asked._wanted(asked._every))
        met = [
            (answer.key, number, paper)
            for paper, kept in zip((True, False), kinds, strict=False)
            for answer in answers
            for number in self._met(answer, kept)
        ]
        self._printed = sum(paper for _, _, paper in met)
        self.each: tuple[Sum, ...] = tuple(
            Sum(
                number=self._numbers[self._alike(number)],
                answer=answer,
                step=number,
                given=tuple(self._operand(piece) for piece in number.given),
                facts=tuple(self._operand(piece) for piece in number.facts),
                source=sources.named(number.source),
                printed=paper,
            )
            for answer, number, paper in met
        )

    def number(self, number: Number) -> int:
        """The number of its sum; 0 where it has none to print."""
        return self._numbers.get(self._alike(number), 0)

    def behind(self, *shown: Finding | Given | None) -> tuple[Sum, ...]:
        """The sums behind what a finding, a row or a sentence shows.

        Parameters
        ----------
        *shown : Finding, Say, Amount, Range, Number
            Whose numbers are looked for.

        Returns
        -------
        tuple of Sum
            Each once, in the order of the appendix.
        """
        return self._found(shown, self._asked)

    def beside(self, *shown: Given | None) -> tuple[Sum, ...]:
        """The same behind a row of a table or what is fine, whose own sums are for the screen and not for paper."""
        return self._found(shown, self._beside)

    def _found(self, shown: Iterable[Finding | Given | None], asked: set[int]) -> tuple[Sum, ...]:
        behind = {self.number(number) for number in numbers_in(*shown)} - {0}
        asked |= behind
        return tuple(self.each[place - 1] for place in sorted(behind))

    def of(self, answer: str) -> tuple[Sum, ...]:
        """The sums that an answer was the first to need."""
        return tuple(sum_ for sum_ in self.each if sum_.answer == answer)

    def _met(self, answer: Answer, kept: frozenset[int] | None) -> Iterator[Number]:
        """Numbers that were not met before and have something to be followed to, each before those it is made of."""
        for top in answer.numbers.values():
            for _, number in top.walk():
                kind = self._alike(number)
                said = number.formula or number.given or number.facts
                if said and kind not in self._numbers and (kept is None or kind in kept):
                    self._numbers[kind] = len(self._numbers) + 1
                    yield number

    @property
    def _every(self) -> set[int]:
        return self._asked | self._beside

    def _wanted(self, asked: Iterable[int], deep: int = -1) -> frozenset[int]:
        """What was asked for, and what it is made of, so many steps deep; all of it below zero."""
        wanted, waiting = set[int](), set(asked)
        while waiting and deep >= -1:
            wanted |= waiting
            put_in = (put for place in waiting for put in (*self.each[place - 1].given, *self.each[place - 1].facts))
            waiting = {put.sum for put in put_in if put.sum} - wanted
            deep = deep if deep == -1 else deep - 1 if deep else -2
        return frozenset(kind for kind, place in self._numbers.items() if place in wanted)

    def _operand(self, piece: Piece) -> Operand:
        inner = piece.value if isinstance(piece.value, Number) else None
        # the range of what is put in stands in its own sum
        value = piece.value if not isinstance(piece.value, Number) else piece.value.words or piece.value.amount
        place = self.number(inner) if inner is not None else 0
        return Operand(
            piece.symbol, retold(piece.meaning, self._words.us) or piece.name, value, place, place <= self._printed
        )

    def _alike(self, number: Number) -> int:
        """What two numbers share when they say the same, whatever objects they are."""
        known = self._kinds.get(id(number))
        if known is None:
            pieces = tuple(
                (piece.name, piece.symbol, self._alike(piece.value))
                if isinstance(piece.value, Number)
                else (piece.name, piece.symbol, self._words.bare(piece.value))
                for piece in (*number.given, *number.facts)
            )
            said = (number.name, number.meaning, number.formula, number.source, number.note)
            texts = (*said, self._words.bare(number.result), repr(number.likely), pieces)
            known = self._kinds[id(number)] = self._said.setdefault(texts, len(self._said))
        return known
