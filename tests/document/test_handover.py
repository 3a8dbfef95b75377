"""What the questions hand over is put together once, in order."""

from __future__ import annotations

from dataclasses import replace

from tests.examples import example_answers
from vanwater.answers.core.handover import Fault, Handed, Living, Means, Measure, Remember, Setting
from vanwater.answers.core.question import Answer, Question
from vanwater.answers.core.statement import say
from vanwater.document.handover import handover
from vanwater.plan.model import Plan


def answer(*handed: Handed) -> Answer:
    question: Question[Answer] = Question(key="q", title="q", answer=lambda _: Answer(verdict=say("v")))
    return replace(question.ask(plan()), question=replace(question, handover=lambda *_: handed))


def plan() -> Plan:
    return example_answers("weekend-cans").plan


def measure(place: int) -> Measure:
    return Measure(place=place, what=say("what"), how="how", expected=say("it"), means=(Means("means"),))


def test_each_thing_once_and_measurements_in_their_order() -> None:
    winter, daily = Living("winter", say("Drain it.")), Living("every day", say("Look."))
    handed = handover(
        plan(), (answer(winter, measure(7), measure(2)), answer(daily, winter, Fault("It drips", say("Wipe."))))
    )
    assert list(handed.living) == ["every day", "winter"]
    assert handed.living["winter"] == (winter.text,)
    assert [each.place for each in handed.measures] == [2, 7]
    assert [fault.sign for fault in handed.faults] == ["It drips"]


def test_settings_keep_their_order_and_reminders_stand_below_their_heads() -> None:
    spare, hole = Remember("Spares for the road", say("Seals.")), Remember("Before the walls close", say("Look."))
    handed = handover(plan(), (answer(spare, Setting(say("a"), say("1"), "how"), hole, spare),))
    assert list(handed.remember.items()) == [(hole.head, (hole.text,)), (spare.head, (spare.text,))]
    assert [each.what.text() for each in handed.settings] == ["a"]
