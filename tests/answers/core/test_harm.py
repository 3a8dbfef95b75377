from __future__ import annotations

import ast
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given

import vanwater.answers
from tests.drawn import WHOLE_PLANS
from tests.examples import NAMES, example_answers
from tests.strategies import plans
from vanwater.answers.core.finding import Finding, Verdict, worst_first
from vanwater.answers.core.harm import HARM, Harm, harm_of, place_of
from vanwater.answers.core.statement import Amount, say
from vanwater.answers.questions import answers_to
from vanwater.plan.model import Plan
from vanwater.quantities import FLOW, TEMPERATURE

ANSWERS = Path(vanwater.answers.__file__).parent
NAME = "some name"


def _written(node: ast.expr) -> Iterator[str]:
    """The texts that an expression can be, a name in the place of every value."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
    elif isinstance(node, ast.JoinedStr):
        ends = [""]
        for part in node.values:
            inner = part.value if isinstance(part, ast.FormattedValue) else part
            texts = list(_written(inner)) or [NAME]
            ends = [end + text for end in ends for text in texts]
        yield from ends
    elif isinstance(node, ast.IfExp):
        yield from (*_written(node.body), *_written(node.orelse))
    elif isinstance(node, ast.Tuple):
        yield from (text for each in node.elts[:1] for text in _written(each))


def keys_in_source() -> set[str]:
    """Every key with which the modules of the answers make a finding."""
    keys: set[str] = set()
    for module in ANSWERS.glob("*/*.py"):
        text = module.read_text()
        if "Finding(" not in text:
            continue
        tree = ast.parse(text)
        held: dict[str, list[str]] = {}
        for node in ast.walk(tree):
            if isinstance(node, ast.Assign):
                targets = node.targets[0].elts if isinstance(node.targets[0], ast.Tuple) else node.targets
                if isinstance(targets[0], ast.Name) and targets[0].id == "key":
                    held.setdefault("key", []).extend(_written(node.value))
        for node in ast.walk(tree):
            if isinstance(node, ast.Call) and getattr(node.func, "id", "") == "Finding":
                first = node.args[0] if node.args else next(each.value for each in node.keywords if each.arg == "key")
                texts = [text.removeprefix(NAME) for text in _written(first)]
                if isinstance(first, ast.Name):
                    texts = held.get("key", [])
                keys.update(text if not text.startswith(".") else f"{held['key'][0]}{text}" for text in texts)
    return {key for key in keys if "." in key}


KEYS = sorted(keys_in_source())


def test_the_source_gives_the_keys() -> None:
    assert {f"hot_water.{NAME}.scald", "stay.days", f"frost.{NAME}.freezes", f"mains.{NAME}.{NAME}.starts"} <= {*KEYS}
    assert len(KEYS) > 60


@pytest.mark.parametrize("key", KEYS)
def test_every_finding_that_can_be_made_has_its_harm(key: str) -> None:
    assert place_of(key) < len(HARM), f"{key}: give its kind a class in answers/core/harm.py"


def test_no_kind_of_the_table_is_of_no_finding() -> None:
    known = {place_of(key) for key in KEYS}
    assert [kind for place, kind in enumerate(HARM) if place not in known and not kind.startswith("measured.")] == []


@WHOLE_PLANS
@given(plans())
def test_every_finding_of_every_plan_has_its_harm(raw: dict[str, Any]) -> None:
    told = [finding for answer in answers_to(Plan.of(raw, file=True)).values() for finding in answer.findings]
    assert [finding.key for finding in told if place_of(finding.key) == len(HARM)] == []


def test_a_name_of_the_plan_decides_nothing() -> None:
    assert harm_of("outlets.pump.flow.flow") is harm_of("outlets.scald.flow") is Harm.COMFORT
    assert harm_of("ratings.joint.push-fit elbow.pex 12 mm") is Harm.DAMAGE
    assert harm_of("hot_water.a\nb.scald") is Harm.INJURY
    assert harm_of("nobody.knows") is Harm.DOES_NOT_WORK


def finding(key: str, verdict: Verdict, value: float | None = None) -> Finding:
    amount = None if value is None else Amount(value, FLOW)
    limit = None if value is None else Amount(1.0, FLOW)
    return Finding(key, verdict, say("So it is."), value=amount, limit=limit, bound="at least")


def test_danger_stands_before_the_stay_and_the_stay_before_comfort() -> None:
    order = [
        finding("frost.pad.protected", Verdict.FAILS),
        finding("hot_water.heater.relief", Verdict.WATCH),
        finding("hot_water.heater.current", Verdict.NOT_DECIDED),
        finding("hot_water.heater.scald", Verdict.WATCH),
        finding("pump_starts.pump.stops", Verdict.FAILS),
        finding("outlets.shower.dry", Verdict.FAILS),
        finding("stay.days", Verdict.FAILS),
        finding("frost.suction.freezes", Verdict.WATCH),
        finding("outlets.shower.flow", Verdict.FAILS, 0.4),
        finding("outlets.basin.flow", Verdict.FAILS, 0.9),
        finding("outlets.galley.flow", Verdict.WATCH, 1.0),
        finding("outlets.other.priming", Verdict.NOT_DECIDED),
        finding("stay.battery", Verdict.NOT_DECIDED),
        finding("frost.other pad.protected", Verdict.FINE),
        finding("stay.person", Verdict.FINE),
    ]
    assert worst_first(reversed(order[:-2])) == tuple(order[:-2])
    assert worst_first([*order[-2:], *order[:-2]]) == tuple(order)


def test_how_far_beyond_is_a_share_of_the_limit() -> None:
    assert finding("a", Verdict.FAILS, 0.25).beyond == pytest.approx(0.75)
    assert finding("a", Verdict.FAILS).beyond == 1.0
    hot = Finding("a", Verdict.WATCH, say("Hot."), value=Amount(340.0, TEMPERATURE), limit=Amount(320.0, TEMPERATURE))
    assert hot.beyond == pytest.approx(20.0 / 320.0)


@pytest.mark.parametrize("name", NAMES)
def test_the_findings_of_an_example_stand_in_the_order_of_harm(name: str) -> None:
    for told in (example_answers(name).findings, *(each.findings for each in example_answers(name).values())):
        for before, after in pairwise(told):
            if after.danger:
                assert before.danger and before.harm <= after.harm
            if Verdict.FAILS in (before.verdict, after.verdict) and before.harm == after.harm:
                assert before.verdict.rank >= after.verdict.rank
