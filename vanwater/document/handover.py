"""What every question adds to the pages that go with the van, put together."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import TypeVar

from vanwater.answers.core.handover import (
    HEADS,
    TOPICS,
    WHENS,
    Fault,
    Gives,
    Handed,
    Head,
    Living,
    Measure,
    Remember,
    Setting,
    Step,
    Topic,
    When,
)
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Say
from vanwater.plan.model import Plan

__all__ = ["Handover", "handover"]

_H = TypeVar("_H", Gives, Living, Fault, Measure, Setting, Remember, Step)


@dataclass(frozen=True, slots=True, kw_only=True)
class Handover:
    """What goes with the van.

    Parameters
    ----------
    gives : tuple of Gives
        What parts give the van.
    living : mapping of str to tuple of Say
        Things to do and to know, by topic, in the order of the topics.
    faults : tuple of Fault
        What goes wrong, and the first steps.
    measures : tuple of Measure
        In the order in which they are made.
    settings : tuple of Setting
        What is set by hand.
    remember : mapping of str to tuple of Say
        What a workshop forgets easily, by head.
    steps : mapping of str to tuple of Say
        The steps of the card that stays in the van, by when they are made, each in its place.
    """

    gives: tuple[Gives, ...]
    living: Mapping[Topic, tuple[Say, ...]]
    faults: tuple[Fault, ...]
    measures: tuple[Measure, ...]
    settings: tuple[Setting, ...]
    remember: Mapping[Head, tuple[Say, ...]]
    steps: Mapping[When, tuple[Say, ...]]


def handover(plan: Plan, answers: Sequence[Answer]) -> Handover:
    """Put together what the questions say.

    Parameters
    ----------
    plan : Plan
        The plan.
    answers : sequence of Answer
        In the order in which they are told.

    Returns
    -------
    Handover
        Each sentence once.
    """
    handed = [each for answer in answers for each in answer.question.handover(plan, answer)]
    living, remember = _of(Living, handed), _of(Remember, handed)
    topics: dict[Topic, tuple[Say, ...]] = {
        topic: tuple(each.text for each in living if each.topic == topic) for topic in TOPICS
    }
    heads: dict[Head, tuple[Say, ...]] = {
        head: tuple(each.text for each in remember if each.head == head) for head in HEADS
    }
    steps = sorted(_of(Step, handed), key=lambda step: step.place)
    whens: dict[When, tuple[Say, ...]] = {
        when: tuple(each.text for each in steps if each.when == when) for when in WHENS
    }
    return Handover(
        gives=_of(Gives, handed),
        living={topic: told for topic, told in topics.items() if told},
        faults=_of(Fault, handed),
        measures=tuple(sorted(_of(Measure, handed), key=lambda measure: measure.place)),
        settings=_of(Setting, handed),
        remember={head: told for head, told in heads.items() if told},
        steps={when: told for when, told in whens.items() if told},
    )


def _of(kind: type[_H], handed: Sequence[Handed]) -> tuple[_H, ...]:
    return tuple(dict.fromkeys(each for each in handed if isinstance(each, kind)))
