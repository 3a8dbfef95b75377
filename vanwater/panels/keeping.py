"""States of a hand that are kept as variants, to stand beside the saved plan."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Any

from vanwater.answers.core.statement import plain
from vanwater.answers.questions import QUESTIONS, Answers
from vanwater.options.altered import altered
from vanwater.options.comparison import Comparison, Variant
from vanwater.panels.control_part import has_part
from vanwater.panels.field import Value
from vanwater.panels.hand import Hand
from vanwater.panels.history import State
from vanwater.panels.part_picks import is_pick
from vanwater.panels.standing import Standing
from vanwater.plan.file import PlanFile
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError, Problem, shown

__all__ = ["LETTERS", "SAVED_LETTER", "Keeping", "Kept"]

SAVED_LETTER = "A"
"""What the saved plan is called beside its variants."""

LETTERS = ("B", "C", "D")
"""What variants are called, beside the saved plan; with more, nobody sees what differs."""

_SAVED, _NOW = "the plan as it was saved", "the plan as it is to be"
"""What they are called in a change order."""

_LONG = 40
"""Letters of a name: it heads columns."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Kept:
    """What a hand had set when it was kept.

    Parameters
    ----------
    letter : str
        B, C or D.
    name : str
        What the builder calls it; empty where he calls it nothing.
    values : mapping of str to object
        By address: SI for quantities, the field's own words else.
    fits : mapping of str to mapping
        Parts that a control fitted, with the fields that came along.
    followed : tuple of str
        What was saved since and cannot be said otherwise in this variant, so that it counts here too.
    """

    letter: str
    name: str
    values: Mapping[str, Value]
    fits: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    followed: tuple[str, ...] = ()

    @property
    def head(self) -> str:
        """Its letter, and its name if it has one."""
        return f"{self.letter}, {self.name}" if self.name else self.letter


class Keeping(Hand):
    """A hand that keeps what it has set as variants.

    Parameters
    ----------
    plan : Plan or PlanFile
        The saved plan.
    us : bool, optional
        US units instead of metric ones; the plan's own choice without it.
    """

    def __init__(self, plan: Plan | PlanFile, us: bool | None = None) -> None:
        self._kept: dict[str, Kept] = {}
        super().__init__(plan, us)

    def _take(self, plan: Plan | PlanFile) -> None:
        super()._take(plan)
        self._stood: dict[Any, Standing] = {}
        self._beside: tuple[Any, Comparison] | None = None
        for kept in self._kept.values():
            for part, fields in kept.fits.items():
                self.fits.setdefault(part, fields)

    @property
    def kept(self) -> tuple[Kept, ...]:
        """What was kept, in the order of the letters."""
        return tuple(self._kept[letter] for letter in LETTERS if letter in self._kept)

    @property
    def next_letter(self) -> str:
        """What the next variant would be called; empty where all letters are taken."""
        return next((letter for letter in LETTERS if letter not in self._kept), "")

    @property
    def kept_as(self) -> str:
        """The variant that has the values which are set now; empty where there is none."""
        return self._kept_with(self.values)

    def kept_changes(self, letter: str) -> tuple[str, ...]:
        """What a variant changes, in words; empty where the plan is saved so."""
        return self.changes_in(self._of(letter).values)

    def stands(self, letter: str) -> Standing:
        """The plan of a variant in the situation that is chosen, or why there is none."""
        kept = self._of(letter)
        state = State(self.state.situation, kept.values)
        if state.key not in self._stood:
            self._stood[state.key] = self._standings.of(State(state.situation, self._turned(kept.values)))
        return self._stood[state.key]

    @property
    def answers(self) -> Answers:
        """All answers to the plan as it stands.

        Raises
        ------
        PlanError
            When it stands on something impossible.
        """
        return _asked(self._stands)

    @property
    def saved_answers(self) -> Answers:
        """All answers to the saved plan in the situation that is chosen."""
        return _asked(self._standings.base(self.state.situation))

    @property
    def side_by_side(self) -> Comparison | None:
        """The saved plan and its variants in the situation that is chosen; None where nothing is kept."""
        key = (self.state.situation, tuple((kept.letter, State("", kept.values).key) for kept in self.kept))
        if not self.kept:
            return None
        if self._beside is None or self._beside[0] != key:
            self._beside = (
                key,
                Comparison(base=self.saved_answers, name=SAVED_LETTER, variants=tuple(map(self._variant, self.kept))),
            )
        return self._beside[1]

    def change_since(self, letter: str) -> Comparison:
        """From the saved plan or a variant to the plan as it stands, in the situation that is chosen.

        Parameters
        ----------
        letter : str
            A for the saved plan, or that of a variant.

        Returns
        -------
        Comparison
            As a change order tells it.

        Raises
        ------
        KeyError
            When nothing is kept under that letter.
        PlanError
            When one of the two is impossible.
        """
        saved = letter == SAVED_LETTER
        before = self.saved_answers if saved else _asked(self.stands(letter))
        now = self.answers
        change = Variant(name=_NOW, values=altered(before.plan, now.plan), answers=now)
        name = _SAVED if saved else self._of(letter).head
        return Comparison(base=before, name=name, variants=(change,), keys=())

    def _variant(self, kept: Kept) -> Variant:
        stands = self.stands(kept.letter)
        if stands.plan is None:
            problems = stands.error.problems if stands.error is not None else ()
            why = " ".join(str(replace(problem, file="")) for problem in problems)
            return Variant(name=kept.letter, values=dict(kept.values), problem=why)
        return Variant(name=kept.letter, values=dict(kept.values), answers=_asked(stands))

    def _keep(self, name: str, values: Mapping[str, Value] | None) -> str:
        said = dict(self.values)
        if values is not None:
            said = self._turned({address: self._read(address, value) for address, value in values.items()})
        error = self._standings.of(State(self.state.situation, said)).error
        if error is not None:
            raise error
        there = self._kept_with(said) if said else SAVED_LETTER
        if there:
            if there != SAVED_LETTER and name:
                self._rename(there, name)
            return there
        letter = self.next_letter
        if not letter:
            told = f"{', '.join(LETTERS)} are taken; beside the saved plan nobody sees more at once."
            raise PlanError([Problem("", told, "one of them to be dropped first")])
        fits = {part: dict(fields) for part, fields in self.fits.items()}
        self._kept[letter] = Kept(letter=letter, name=_named(name), values=said, fits=fits)
        return letter

    def _kept_with(self, values: Mapping[str, Value]) -> str:
        key = State("", values).key
        return next((kept.letter for kept in self.kept if State("", self._turned(kept.values)).key == key), "")

    def _drop(self, letter: str) -> None:
        del self._kept[self._of(letter).letter]

    def _rename(self, letter: str, name: str) -> None:
        self._kept[letter] = replace(self._of(letter), name=_named(name))

    def _forget(self) -> None:
        self._kept.clear()

    def _taken_up(self, letter: str) -> State:
        return State(self.state.situation, self._turned(self._of(letter).values))

    def _carry_on(self) -> None:
        """Before what is set becomes the saved plan: let each variant say what the plan said until now."""
        before: dict[str, Value] = {}
        followed: list[str] = []
        for address in self.values:
            saved = self.field(address).saved
            if not has_part(self.base, address) or (is_pick(address) and saved is None):
                followed.append(self.field(address).name)
            else:
                before[address] = saved
        for letter, kept in self._kept.items():
            also = [name for name in followed if name not in kept.followed and not self._says(kept, name)]
            self._kept[letter] = replace(kept, values={**before, **kept.values}, followed=(*kept.followed, *also))

    def _says(self, kept: Kept, name: str) -> bool:
        """Whether a variant has a value of its own for a field of a name."""
        return any(self.field(address).name == name for address in kept.values if address in self.values)

    def _of(self, letter: str) -> Kept:
        if letter not in self._kept:
            there = f"there are {', '.join(self._kept)}" if self._kept else "nothing is kept yet"
            raise KeyError(f"No variant is called {shown(letter)}; {there}.")
        return self._kept[letter]


def _named(name: str) -> str:
    """A name as it heads a column: one line, not too long."""
    return plain(" ".join(name.split())[:_LONG].strip(), "terminal")


def _asked(stands: Standing) -> Answers:
    asked = {key: stands.ask(key) for key in QUESTIONS}
    return Answers(stands.sure, {key: answer for key, answer in asked.items() if not answer.silent})
