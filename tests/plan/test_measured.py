"""A measured value says its number, what was read, when and with what; what cannot be is told at its line."""

from __future__ import annotations

import datetime as dt
from pathlib import Path

import pytest

from vanwater.plan.file import read
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError

SAID = {"number": "site.cold_water", "value": "11 °C", "on": "2025-03-14", "instrument": "probe"}
VAN = {"van": {"name": "A"}, "household": {"people": 2}}


def plan(**measured: dict[str, str]) -> Plan:
    return Plan.of({**VAN, "measured": measured})


def test_the_day_is_read_and_all_else_kept_as_it_was_written() -> None:
    each = plan(a=SAID | {"by": "the workshop", "note": "Tank full."}).measured["a"]
    assert each.day == dt.date(2025, 3, 14) and (each.by, each.note, each.uncertainty) == (
        "the workshop",
        "Tank full.",
        None,
    )


@pytest.mark.parametrize(
    ("wrong", "told"),
    (
        ({"on": "14.3.2025"}, 'measured.a.on: "14.3.2025" is no day. Expected a day that has been'),
        ({"on": "2025-02-30"}, '"2025-02-30" is no day'),
        ({"on": str(dt.date.today() + dt.timedelta(2))}, "is still to come"),
        ({"on": 20250314}, "20250314 stands where a text was expected"),
        ({"situation": "ski week"}, "measured.a.situation: The plan has no situation"),
        ({"instrument": ""}, "measured.a.instrument"),
        ({"value": ""}, "measured.a.value"),
    ),
)
def test_what_cannot_be_is_refused(wrong: dict[str, str], told: str) -> None:
    with pytest.raises(PlanError) as refused:
        plan(a=SAID | wrong)
    assert told in str(refused.value)


def test_today_is_no_day_to_come() -> None:
    assert plan(a=SAID | {"on": str(dt.date.today())}).measured["a"].day == dt.date.today()


def test_a_number_is_measured_once_in_each_situation() -> None:
    with pytest.raises(PlanError, match=r'measured\.b\.number: "site\.cold_water" is measured twice: also in "a"'):
        plan(a=SAID, b=SAID | {"value": "12 °C"})
    with pytest.raises(PlanError, match="is measured twice"):
        plan(a=SAID | {"number": 'outlet."a tap".flow'}, b=SAID | {"number": "outlet.a tap.flow"})
    there = {**VAN, "situations": {"winter": {"site": {"cold_water": "6 °C"}}}}
    both = Plan.of({**there, "measured": {"a": SAID, "b": SAID | {"situation": "winter"}}})
    assert set(both.measured) == {"a", "b"} and set(both.in_situation("winter").measured) == {"a", "b"}


def test_a_file_tells_the_line_and_how_a_bare_day_is_written(tmp_path: Path) -> None:
    path = tmp_path / "van.toml"
    text = '[van]\nname = "A"\n[household]\npeople = 2\n[measured.a]\nnumber = "site.cold_water"\n'
    path.write_text(f'{text}value = "11 °C"\non = 2025-03-14\ninstrument = "probe"\n', encoding="utf-8")
    with pytest.raises(PlanError) as refused:
        read(path)
    assert "van.toml:8 measured.a.on: 2025-03-14 stands where a text was expected." in str(refused.value)
    assert 'Did you mean on = "2025-03-14"?' in str(refused.value)
