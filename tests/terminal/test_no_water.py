"""Designs that cannot deliver: the command says so in words and in JSON, never a NaN and never a flow that is not."""

from __future__ import annotations

import json
import math
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from vanwater.command import main
from vanwater.plan.tables import resource

STARTER = resource("data", "starter", "full.toml").read_text(encoding="utf-8")
CURVE = re.search(r"(?s)curve = \[.*?\n\]", STARTER)
assert CURVE is not None
WEAK = 'curve = [["0 L/min", "0.12 bar"], ["11 L/min", "0 bar"]]'
TOGETHER = ('#[together.evening]\n#outlets = ["shower"', '[together.evening]\noutlets = ["shower"')
K = "k = 1000\n"


def design(tmp_path: Path, *changes: tuple[str, str]) -> Path:
    text = STARTER
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    path = tmp_path / "van.toml"
    path.write_text(text, encoding="utf-8")
    return path


def told(path: Path, capsys: pytest.CaptureFixture[str]) -> tuple[str, dict[str, Any]]:
    assert main(["check", str(path), "--all"]) == 0
    screen = " ".join(capsys.readouterr().out.split())
    assert not re.search(r"\b(nan|inf)\b", screen, re.IGNORECASE)
    assert main(["check", str(path), "--json"]) == 0
    answers = json.loads(capsys.readouterr().out, parse_constant=lambda word: pytest.fail(f"{word} is no JSON"))
    assert all(math.isfinite(number) for number in numbers(answers))
    for each in answers["answers"].values():
        each["numbers"] = {key: answers["numbers"][key] for key in each["numbers"]}
    return screen, answers["answers"]


def numbers(tree: Any) -> Iterator[float]:
    if isinstance(tree, dict | list):
        for below in tree.values() if isinstance(tree, dict) else tree:
            yield from numbers(below)
    elif isinstance(tree, float):
        yield tree


def finding(answers: dict[str, Any], key: str) -> dict[str, Any]:
    found: dict[str, Any] = next(one for answer in answers.values() for one in answer["findings"] if one["key"] == key)
    return found


@pytest.mark.parametrize(
    "changes",
    [
        ((CURVE[0], WEAK),),
        ((CURVE[0], WEAK), ('cut_in = "1.3 bar" ', 'cut_in = "0.1 bar" ')),
        ((CURVE[0], WEAK), ('z = "2 cm" ', 'z = "-2.9 m" ')),
        ((CURVE[0], WEAK), TOGETHER),
        ((CURVE[0], WEAK), ('volts = "12.3 V" ', 'volts = "5 V" ')),
        ((CURVE[0], 'curve = [["0 L/min", "0.12 bar"], ["11 L/min", "0.05 bar"]]'), ("#regulated", "regulated")),
    ],
    ids=["shut-off", "low cut-in", "tank below", "together", "volts", "regulated"],
)
def test_outlet_above_what_the_pump_can_lift_gives_nothing(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], changes: tuple[tuple[str, str], ...]
) -> None:
    screen, answers = told(design(tmp_path, *changes), capsys)
    assert "No water reaches the shower: the pressure does not lift it that high." in screen
    flow = answers["outlets"]["numbers"]["outlet.shower.flow"]
    assert (flow["value"], flow["low"], flow["high"]) == (0.0, None, None)
    assert finding(answers, "outlets.shower.dry")["verdict"] == "fails"
    assert "outlet.shower.rise" not in answers["outlets"]["numbers"]
    together = [one["text"] for one in answers.get("simultaneous", {}).get("findings", ())]
    assert not [text for text in together if "the shower gives" in text or "The shower, set for" in text]


@pytest.mark.parametrize(
    ("changes", "most"),
    [
        (
            (
                ("#k = 1.5 ", "k = 1000 #"),
                ('length = "1.9 m"\n', f'length = "1.9 m"\n{K}'),
                ('length = "2.4 m"\n', f'length = "2.4 m"\n{K}'),
                ('length = "0.7 m"\n', f'length = "0.7 m"\n{K}'),
                ('length = "1.2 m"\nfittings', f'length = "1.2 m"\n{K}fittings'),
            ),
            3.5,
        ),
        ((('bore = "8 mm" ', 'bore = "2 mm" '),), 1.2),
        ((('flow = "5.8 L/min" ', 'flow = "0.2 L/min" '), ('at = "1 bar" ', 'at = "6 bar" ')), 0.2),
        ((('volts = "12.3 V" ', 'volts = "5 V" '),), 4.0),
    ],
    ids=["all K huge", "bore of 2 mm", "nozzle", "volts"],
)
def test_way_that_chokes_gives_little_and_fails_the_wish(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], changes: tuple[tuple[str, str], ...], most: float
) -> None:
    screen, answers = told(design(tmp_path, *changes), capsys)
    flow = answers["outlets"]["numbers"]["outlet.shower.flow"]
    assert 0.0 < flow["low"] < flow["value"] < flow["high"] < most * 1e-3 / 60
    assert finding(answers, "outlets.shower.flow")["verdict"] == "fails"
    assert "is wanted" in screen


@pytest.mark.parametrize(
    "change",
    [
        ('pickup = "15 mm" ', 'pickup = "15 mm"\nfilled = "0 %"\n#'),
        ('pickup = "15 mm" ', 'pickup = "15 mm"\nfilled = "3 %"\n#'),
        ('pickup = "15 mm" ', 'pickup = "239 mm"\n#'),
    ],
    ids=["empty", "below the pick-up", "pick-up at the overflow"],
)
def test_tank_without_water_in_reach_ends_the_stay_at_once(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], change: tuple[str, str]
) -> None:
    screen, answers = told(design(tmp_path, change), capsys)
    stay = answers["stay"]["numbers"]["stay.days"]
    assert 0.0 <= stay["value"] < 0.1 * 86400
    assert finding(answers, "stay.days")["verdict"] == "fails"
    assert screen.startswith("Fresh water runs out first, after 0")


def test_heater_cooler_than_the_shower_and_clogged_strainer_are_answered(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    cool = design(tmp_path, ('set_point = "58 °C"', 'set_point = "31 °C"'), ('clogged = "10 %" ', 'clogged = "100 %" '))
    screen, answers = told(cool, capsys)
    assert "The heater makes 31 °C; the shower wants 38 °C." in screen.replace("\N{NO-BREAK SPACE}", " ")
    assert finding(answers, "outlets.shower.warm")["verdict"] == "fails"
    clear = told(design(tmp_path, ('set_point = "58 °C"', 'set_point = "31 °C"')), capsys)[1]
    assert (
        answers["outlets"]["numbers"]["outlet.shower.flow"]["value"]
        < clear["outlets"]["numbers"]["outlet.shower.flow"]["value"]
    )


def test_plan_without_suction_still_answers_the_rest(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    whole = STARTER[STARTER.index("[runs.suction]") : STARTER.index("[runs.trunk]")]
    screen, answers = told(design(tmp_path, (whole, "")), capsys)
    assert "What the outlets give is not decided yet." in screen
    assert "The plan is not whole: 1 thing is missing." in screen
    assert 'with from = "fresh" and to = "pump".' in screen
    assert answers["outlets"]["findings"] == []
    assert answers["stay"]["numbers"]["stay.days"]["value"] > 86400
