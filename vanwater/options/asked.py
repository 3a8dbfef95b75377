"""One number for many other designs: along the rows of one batch where they can be, else each as a plan of its own."""

from __future__ import annotations

import math
import warnings
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from vanwater.answers.questions import QUESTIONS
from vanwater.plan.address import note
from vanwater.plan.change import CappedWarning
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError
from vanwater.quantities import QuantityError
from vanwater.system.batch import Row, carries, with_designs

__all__ = ["Said", "moved_by", "said_of"]

_LONGER = 1.5
"""Factor on the length of a run, to see whether a number hangs on it at all."""


@dataclass(frozen=True, slots=True)
class Said:
    """What a number comes to in another design.

    Parameters
    ----------
    value : float
        In SI; nan where the design has no such number, or is no plan.
    problem : str
        Why it is no plan; empty where it is.
    """

    value: float
    problem: str = ""


def said_of(plan: Plan, question: str, key: str, designs: Sequence[Mapping[str, Any]]) -> tuple[Said, ...]:
    """A number of a question for many designs.

    Parameters
    ----------
    plan : Plan
        The plan.
    question, key : str
        Where the number is told, and which it is.
    designs : sequence of mapping
        Other values by address, each as the file would hold them.

    Returns
    -------
    tuple of Said
        In their order; the same whether a design went along a row or was a plan of its own.
    """
    told: dict[int, Said] = {}
    rows: dict[int, Row] = {}
    for place, values in enumerate(designs):
        plain = _in_si(plan, values)
        if plain is not None and carries(plan, plain):
            rows[place] = Row(f"design {place}", plain)
    along = _along(plan, question, key, list(rows.values()))
    for place, value in zip(rows, along, strict=False):
        why = _possible(plan, designs[place])
        told[place] = Said(math.nan if isinstance(why, str) else value, why if isinstance(why, str) else "")
    for place, values in enumerate(designs):
        if place not in told:
            told[place] = _alone(plan, question, key, values)
    return tuple(told[place] for place in range(len(designs)))


def moved_by(plan: Plan, question: str, key: str, runs: Sequence[str]) -> frozenset[str]:
    """The runs whose length moves a number: the bore of the others cannot move it either, unless its key names them.

    Parameters
    ----------
    plan : Plan
        The plan.
    question, key : str
        Where the number is told, and which it is.
    runs : sequence of str
        Their names.

    Returns
    -------
    frozenset of str
        Those that move it, and those of which it cannot be told so.
    """
    probes = {run: {f"runs.{run}.length": (plan.runs[run].length or 0.0) * _LONGER} for run in runs}
    asked = {run: probe for run, probe in probes.items() if run not in key and carries(plan, probe)}
    values = _along(plan, question, key, [Row(run, probe) for run, probe in asked.items()])
    if not len(values):
        return frozenset(runs)
    planned = QUESTIONS[question].ask(plan).numbers[key].likely
    still = {run for run, value in zip(asked, values, strict=True) if value == planned}
    return frozenset(set(runs) - still)


def _along(plan: Plan, question: str, key: str, rows: Sequence[Row]) -> Sequence[float]:
    """The number along rows; nothing where it does not lie along them."""
    if not rows:
        return ()
    planned = QUESTIONS[question].ask(plan).numbers.get(key)
    try:
        number = QUESTIONS[question].ask(with_designs(plan, rows)).numbers.get(key)
    except Exception:  # one row stands for all in a batch; alone, each says for itself what went wrong
        return ()
    if planned is None or number is None or not number.along or number.values.size != planned.values.size + len(rows):
        return ()
    values: list[float] = np.asarray(number.values[-len(rows) :]).tolist()
    return values


def _alone(plan: Plan, question: str, key: str, values: Mapping[str, Any]) -> Said:
    own = _possible(plan, values)
    if isinstance(own, str):
        return Said(math.nan, own)
    number = QUESTIONS[question].ask(own).numbers.get(key)
    return Said(math.nan if number is None else number.likely)


def _possible(plan: Plan, values: Mapping[str, Any]) -> Plan | str:
    """The plan with other values, or why there is none."""
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", CappedWarning)
        try:
            return plan.changed(values)
        except PlanError as error:
            return " ".join(str(error).splitlines())


def _in_si(plan: Plan, values: Mapping[str, Any]) -> dict[str, float] | None:
    """Numbers in SI; None where one is none."""
    plain: dict[str, float] = {}
    for address, value in values.items():
        try:
            quantity = note(type(plan), address).quantity
            if quantity is None or not isinstance(value, str):
                return None
            plain[address] = quantity.read(value)
        except (KeyError, QuantityError):
            return None
    return plain
