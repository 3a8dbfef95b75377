from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
from pydantic import TypeAdapter, ValidationError

from vanwater.plan.error_messages import place_of, problem_of, unknown_key
from vanwater.plan.file import read
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError, Problem


def told(raw: dict[str, Any]) -> list[Problem]:
    """Straight from the validator's report, without the rounds of gathering."""
    with pytest.raises(ValidationError) as caught:
        Plan.model_validate({"van": {"name": "x"}, "household": {"people": 1}} | raw, context={"file": True})
    return [problem_of(Plan, detail) for detail in caught.value.errors()]


@pytest.mark.parametrize(
    ("raw", "line"),
    [
        (
            {"tanks": {"t": {"holds": "frsh", "capacity": "9 L"}}},
            'tanks.t.holds: "frsh" is not one of the choices. '
            'Expected "fresh" or "grey" or "urine" or "cassette". Did you mean "fresh"?',
        ),
        (
            {"tanks": {"t": {"holds": {}, "capacity": "9 L"}}},
            'tanks.t.holds: A table is not one of the choices. Expected "fresh" or "grey" or "urine" or "cassette".',
        ),
        ({"tanks": 3}, "tanks: 3 stands where a table was expected. Expected a table [tanks]."),
        ({"tanks": []}, "tanks: A list stands where a table was expected. Expected a table [tanks]."),
        (
            {"tanks": {"t": [{}]}},
            "tanks.t: A list stands where a table was expected. Expected a table [tanks.t]. "
            "Write [tanks.t] with single brackets, not [[tanks.t]].",
        ),
        (
            {"household": {"people": "2"}},
            'household.people: "2" is not a whole number. Expected a whole number from 1 to 12. '
            "Write it without quotes: people = 2.",
        ),
        (
            {"household": {"people": "two"}},
            'household.people: "two" is not a whole number. Expected a whole number from 1 to 12.',
        ),
        ({"household": {"people": 99}}, "household.people: 99 is too many. Expected a whole number from 1 to 12."),
        (
            {"heaters": {"h": {}}},
            'heaters.h.volume: [heaters.h] says no "volume". Expected volume = "10 L".',
        ),
        (
            {"accumulators": {"a": {"volume": "1 L"}}},
            'accumulators.a.at: [accumulators.a] says no "at". Expected at = "...", the piece at which it sits.',
        ),
        (
            {"van": {"name": "x", "note": 5}},
            'van.note: 5 stands where a text was expected. Expected a text in quotes. Did you mean note = "5"?',
        ),
        (
            {"tees": {"a.b": {}}},
            'tees.a.b: "a.b" cannot be a name. '
            "Expected letters, digits, spaces and hyphens, at most 40, the first a letter or digit.",
        ),
        (
            {"tees": {3: {}}},
            'tees.3: "3" cannot be a name. '
            "Expected letters, digits, spaces and hyphens, at most 40, the first a letter or digit.",
        ),
        (
            {"tanks": {"t": {"holds": "grey", "capacity": "9 L", "faces": {"tip": {}}}}},
            'tanks.t.faces.tip: "tip" is not known here. '
            'Expected one of top, bottom, front, rear, left, right. Did you mean "top"?',
        ),
        (
            {"tees": {"t": {"h": 1}}},
            'tees.t.h: "h" is not known here. Expected one of x, y, z, joint.',
        ),
    ],
)
def test_report_reads_like_a_colleagues(raw: dict[str, Any], line: str) -> None:
    assert [str(problem) for problem in told(raw)] == [line]


def test_report_of_an_unforeseen_kind_still_has_value_and_address() -> None:
    with pytest.raises(ValidationError) as caught:
        TypeAdapter(dict[str, bytes]).validate_python({"van": 5})
    (detail,) = caught.value.errors()
    problem = problem_of(Plan, detail)
    assert (problem.address, problem.message) == ("van", "5 does not fit here.")
    assert problem.expected


def test_place_and_nearest_key() -> None:
    assert unknown_key(Plan, ("tanks", "t", "hold"))[0] == "holds"
    assert unknown_key(Plan, ("tank",))[0] == "tanks"
    assert unknown_key(Plan, ("zonk", "x"))[1] == unknown_key(Plan, ("zonk",))[1]
    with pytest.raises(ValidationError) as caught:
        Plan.model_validate({"van": {"name": "x"}, "household": {"people": 1}, "tees": {"": {}}})
    assert place_of(caught.value.errors()[0]) == ("tees", "")


METRIC = re.compile(r"\d[\s\u00a0](L|mL|L/min|mm|cm|m|bar|kPa|kg|°C|km/h)\b")
US_VAN = """[van]
name = "x"
units = "us"
[household]
people = 2
"""


@pytest.mark.parametrize(
    ("table", "address", "told"),
    [
        ('[tanks.t]\nholds = "fresh"\ncapacity = "40"', "tanks.t.capacity", '"40 gal"'),
        ('[tanks.t]\nholds = "fresh"\ncapacity = "9000 gal"', "tanks.t.capacity", "264\u00a0gal"),
        ('[tanks.t]\nholds = "fresh"', "tanks.t.capacity", 'capacity = "20 gal"'),
        ('[tanks.t]\nholds = "fresh"\ncapacity = "9,5 gal"', "tanks.t.capacity", '"9.5 gal"'),
        ('[pumps.p]\ncurve = [["0 gpm"]]', "pumps.p.curve.0.1", '"42 psi"'),
        ('[pumps.p]\ncut_in = "50 psi"\ncut_out = "30 psi"\nby_pass = "40 psi"', "pumps.p.by_pass", "40"),
        ('[pumps.p]\nkind = "speed-controlled"\ncut_in = "40 psi"', "pumps.p.cut_in", 'holds = "35 psi"'),
        ("[fittings.f]", "fittings.f.loss", 'loss = "2.9 psi"'),
        ('[outlets.o]\nflow = "1 gpm"', "outlets.o.at", 'at = "15 psi"'),
        ('[uses.u]\na_day = "2 a day"', "uses.u.volume", 'volume = "2.1 gal"'),
        (
            '[heaters.h]\nvolume = "2 gal"\nset_point = "45 °F"\n[site]\ncold_water = "50 °F"',
            "heaters.h.set_point",
            "45",
        ),
        ('[tees.t]\njoint = "glue"', "tees.t.joint", '"barb 1/2 in"'),
        ("[tanks.t]\ncapacity = 20 gal", "", 'capacity = "20 gal"'),
    ],
)
def test_a_plan_in_us_units_is_told_no_metric_ones(tmp_path: Path, table: str, address: str, told: str) -> None:
    file = tmp_path / "van.toml"
    file.write_text(US_VAN + table, encoding="utf-8")
    with pytest.raises(PlanError) as caught:
        read(file)
    texts = [str(problem) for problem in caught.value.problems if problem.address == address]
    assert any(told in text for text in texts)
    assert not [text for text in map(str, caught.value.problems) if METRIC.search(text)]
