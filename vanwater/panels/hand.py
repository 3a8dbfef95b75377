"""A plan with what a hand has set beside it: values, a situation, the steps that led there."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from vanwater.answers.core.question import Answer
from vanwater.panels.control_part import part_at
from vanwater.panels.field import Field, Value, alike, decided
from vanwater.panels.history import History, State
from vanwater.panels.labels import heading, label
from vanwater.panels.standing import Standing, Standings, part_fields, with_picks
from vanwater.panels.write_back import revised
from vanwater.plan.address import note
from vanwater.plan.file import PlanFile
from vanwater.plan.model import Plan
from vanwater.plan.overlay import Overlay
from vanwater.plan.problems import PlanError, Problem

__all__ = ["Hand"]


class Hand:
    """A plan under a hand.

    Parameters
    ----------
    plan : Plan or PlanFile
        The saved plan.
    us : bool, optional
        US units instead of metric ones; the plan's own choice without it.
    """

    def __init__(self, plan: Plan | PlanFile, us: bool | None = None) -> None:
        self._us = us
        self._take(plan)

    def _take(self, plan: Plan | PlanFile) -> None:
        """Begin anew with a saved plan."""
        self.file = plan if isinstance(plan, PlanFile) else None
        self._written = plan.plan if isinstance(plan, PlanFile) else plan
        self.us = self._written.us if self._us is None else self._us
        self.saved = self._written.read_in(self.us)
        self.history = History()
        self._standings = Standings(self._written, self.us)
        self._fields: dict[tuple[str, str], Field] = {}

    @property
    def state(self) -> State:
        """What a hand has set."""
        return self.history.state

    @property
    def values(self) -> Mapping[str, Value]:
        """What a hand has set, by address: SI for quantities, the field's own words else."""
        return self.state.values

    @property
    def fits(self) -> dict[str, Mapping[str, str]]:
        """Parts that the plan lacks and a control may fit, with the fields that come along."""
        return self._standings.fits

    @property
    def situations(self) -> tuple[str, ...]:
        """The situations that can be chosen."""
        return tuple(self._written.overlays)

    @property
    def base(self) -> Plan:
        """The saved plan in the situation that is chosen, without what a hand has set."""
        return self._standings.base(self.state.situation).sure

    @property
    def plan(self) -> Plan:
        """The plan as it stands.

        Raises
        ------
        PlanError
            When it stands on something impossible.
        """
        return self._stands.sure

    @property
    def refused(self) -> PlanError | None:
        """Why the plan as it stands is impossible; None where it is possible."""
        return self._stands.error

    @property
    def capped(self) -> tuple[str, ...]:
        """What moves less than it seems to, because another value of the same part is nearer."""
        return self._stands.capped

    def ask(self, question: str) -> Answer:
        """The answer to a question about the plan as it stands; each is asked once a state.

        Parameters
        ----------
        question : str
            Name of the question.

        Returns
        -------
        Answer
            The same object while nothing moves.

        Raises
        ------
        PlanError
            When the plan stands on something impossible.
        KeyError
            When there is no such question.
        """
        return self._stands.ask(question)

    def before(self, question: str) -> Answer:
        """The same of the plan without what a hand has set, in the situation that is chosen."""
        return self._standings.base(self.state.situation).ask(question)

    def field(self, address: str) -> Field:
        """A field in words, its saved value that of the situation that is chosen."""
        place = self.state.situation, address
        if place not in self._fields:
            fit = self.fits.get(part_at(address), {})
            self._fields[place] = Field(self.base, address, self.us, fit.get(address.rpartition(".")[2], ""))
        return self._fields[place]

    def value(self, address: str) -> Value:
        """Where the control of an address stands."""
        if address in self.values:
            return self.values[address]
        return decided(self.base if self.refused is not None else self.plan, address)

    def without(self, address: str) -> State:
        """What a hand has set, but for one value."""
        values = {place: value for place, value in self.values.items() if place != address}
        return State(self.state.situation, values)

    def with_value(self, address: str, value: Value) -> State:
        """What a hand has set, and one more value; what the plan says anyway is not set.

        Parameters
        ----------
        address : str
            The field.
        value : float, int, bool, str or None
            SI for quantities, or a text with its unit; the field's own words else.

        Raises
        ------
        PlanError
            When a text with a unit cannot be read.
        """
        value, state = self._read(address, value), self.without(address)
        if alike(value, decided(self._standings.of(state).plan or self.base, address)):
            return state
        return State(state.situation, {**state.values, address: value})

    def in_situation(self, situation: str) -> State:
        """The same values, looked at in another situation.

        Raises
        ------
        KeyError
            When the plan has no such situation.
        """
        self._standings.base(situation)
        return State(situation, self.values)

    @property
    def written(self) -> dict[str, Any]:
        """What a hand has set as the plan's file would hold it, without what stands there already."""
        written = {address: self.field(address).written(value) for address, value in self._turned(self.values).items()}
        return part_fields(self.base, self.fits, written) | written

    @property
    def changes(self) -> tuple[str, ...]:
        """What a hand has changed, in words; a plan's own text as it is."""
        return self.changes_in(self.values)

    def changes_in(self, values: Mapping[str, Value]) -> tuple[str, ...]:
        """What some values change, in words, beside the saved plan in the situation that is chosen."""
        turned = self._turned(values)
        fields = [(self.field(address), value) for address, value in turned.items()]
        words = [f"{own.name}: {own.text(own.saved)} → {own.text(value)}" for own, value in fields]
        for address, value in part_fields(self.base, self.fits, turned).items():
            if address not in turned:
                what = label(note(Plan, address), None).partition(" (")[0]
                words.append(f"{heading(self.saved, address)}, {what}: {value}")
        return tuple(words)

    def overlay(self, name: str) -> Overlay:
        """What a hand has set as a named set of values, to be kept beside the plan."""
        return Overlay(name, with_picks(self.base, self.written))

    def revised(self) -> PlanFile:
        """The plan's file with what a hand has set; not saved yet.

        Raises
        ------
        PlanError
            When it is impossible, was not read from a file, or the plan is looked at in a situation.
        """
        if self.file is None:
            raise PlanError([Problem("", "This plan was not read from a file.")])
        if self.state.situation:
            message = f'The plan is looked at in the situation "{self.state.situation}".'
            raise PlanError([Problem("", message, "the plan as it is written", "Choose it above, then save.")])
        return revised(self.file, self.written)

    def handed(self) -> PlanFile:
        """The plan's file with what a hand has set; not saved. What the chosen situation says itself is set there.

        Raises
        ------
        PlanError
            When it is impossible, or the plan was not read from a file.
        """
        situation = self.state.situation
        overlay = self._written.overlays[situation].values if situation else {}
        there = {address: value for address, value in self.written.items() if _said_in(overlay, address)}
        aside = Hand(self.file or self._written, self._us)
        aside.fits.update(self.fits)
        aside.history.push(State("", {place: value for place, value in self.values.items() if place not in there}), "")
        file = aside.revised()
        for address, value in there.items():
            file = file.revised(f"situations.{situation}.{address}", value)
        return file

    @property
    def _stands(self) -> Standing:
        return self._standings.of(self.state)

    def _read(self, address: str, value: Value) -> Value:
        """A value as a hand would have set it: a text with its unit in SI."""
        own = self.field(address)
        return own.read(value) if own.quantity is not None and isinstance(value, str) else value

    def _turned(self, values: Mapping[str, Value]) -> dict[str, Value]:
        """Values without what the plan says anyway."""
        return {place: value for place, value in values.items() if not alike(value, self.field(place).saved)}


def _said_in(overlay: Mapping[str, Any], address: str) -> bool:
    """Whether an overlay says something at an address, or puts the whole part there."""
    return any(address == place or address.startswith(f"{place}.") for place in overlay)
