"""The plan of each state of the bench, with the answers that somebody has asked for."""

from __future__ import annotations

import warnings
from collections import OrderedDict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import Any

from vanwater.answers.core.question import Answer
from vanwater.answers.questions import QUESTIONS
from vanwater.panels.control_part import has_part, part_at, with_whole_parts
from vanwater.panels.history import State
from vanwater.panels.part_picks import is_pick, picked
from vanwater.plan.change import CappedWarning
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError

__all__ = ["Standing", "Standings", "part_fields", "with_picks"]

_KEPT = 12  # states whose answers are kept, so that a step back costs nothing


@dataclass(slots=True)
class Standing:
    """The plan of one state with its answers, or why there is none.

    Parameters
    ----------
    plan : Plan or None
        None where the state is impossible.
    error : PlanError or None
        Why it is.
    capped : tuple of str
        What moves less than it seems to, because another value of the same part is nearer.
    answers : dict of str to Answer
        By question; each is asked when somebody first looks at it.
    """

    plan: Plan | None
    error: PlanError | None = None
    capped: tuple[str, ...] = ()
    answers: dict[str, Answer] = field(default_factory=dict)

    @property
    def sure(self) -> Plan:
        """The plan.

        Raises
        ------
        PlanError
            Where the state is impossible.
        """
        if self.plan is None:
            raise self.error or PlanError([])
        return self.plan

    def ask(self, question: str) -> Answer:
        """The answer to a question, asked once.

        Raises
        ------
        PlanError
            Where the state is impossible.
        """
        plan = self.sure
        if question not in self.answers:
            self.answers[question] = QUESTIONS[question].ask(plan)
        return self.answers[question]


class Standings:
    """The plans of all states.

    Parameters
    ----------
    written : Plan
        The saved plan, in its own units.
    us : bool
        US units instead of metric ones.
    """

    def __init__(self, written: Plan, us: bool) -> None:
        self._written, self._us = written, us
        self.fits: dict[str, Mapping[str, str]] = {}
        self._bases: dict[str, Standing] = {}
        self._laid: OrderedDict[Any, Standing] = OrderedDict()

    def base(self, situation: str) -> Standing:
        """The saved plan in a situation, as it is written with an empty name.

        Raises
        ------
        KeyError
            When the plan has no such situation.
        """
        if situation not in self._bases:
            plan = self._written.in_situation(situation) if situation else self._written
            self._bases[situation] = Standing(plan.read_in(self._us))
        return self._bases[situation]

    def of(self, state: State) -> Standing:
        """The plan of a state."""
        base = self.base(state.situation)
        if not state.values:
            return base
        if state.key not in self._laid:
            self._laid[state.key] = self._lay(base.sure, state.values)
            while len(self._laid) > _KEPT:
                self._laid.popitem(last=False)
        self._laid.move_to_end(state.key)
        return self._laid[state.key]

    def _lay(self, base: Plan, values: Mapping[str, Any]) -> Standing:
        """A plan with what a hand has set laid over it."""
        try:
            with warnings.catch_warnings(record=True) as caught:
                warnings.simplefilter("always", CappedWarning)
                plan = base.changed(with_picks(base, part_fields(base, self.fits, values) | dict(values)), si=True)
        except PlanError as error:
            return Standing(None, error)
        told = (str(warning.message) for warning in caught if issubclass(warning.category, CappedWarning))
        return Standing(plan, capped=tuple(dict.fromkeys(told)))


def part_fields(base: Plan, fits: Mapping[str, Mapping[str, str]], values: Iterable[str]) -> dict[str, Any]:
    """The first fields of each part that a value fits where the plan lacks it.

    Parameters
    ----------
    base : Plan
        The plan without what a hand has set.
    fits : mapping
        Parts that a control may fit, with their fields, by address.
    values : iterable of str
        Addresses that a hand has set.

    Returns
    -------
    dict
        Values as the file would hold them, by address.
    """
    parts = dict.fromkeys(part_at(address) for address in values if not has_part(base, address))
    return {f"{part}.{key}": value for part in parts for key, value in fits.get(part, {}).items()}


def with_picks(base: Plan, values: Mapping[str, Any]) -> dict[str, Any]:
    """Values with each part that is picked, or that the plan lacks, as one table."""
    picks = {address: picked(base, address, str(name)) for address, name in values.items() if is_pick(address)}
    rest = {address: value for address, value in values.items() if address not in picks}
    return with_whole_parts(base, rest) | {address.rpartition(".")[0]: part for address, part in picks.items()}
