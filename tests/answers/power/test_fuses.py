from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import HealthCheck, given, settings

from tests.examples import NAMES, example, example_answers
from tests.strategies import plans
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.harm import Harm, harm_of
from vanwater.answers.power.answer import power
from vanwater.answers.power.cables import cable_drops, cable_findings
from vanwater.plan.model import Plan
from vanwater.plan.wiring import fuse_kind, fuse_sizes
from vanwater.system.batch import Batch

FAMILY = example("family-winter")
INVERTER, PUMP = "cables.inverter cable", "cables.pump cable"
SOUND = {"carries": Verdict.FINE, "fuse": Verdict.FINE, "blows": Verdict.FINE}


def own(name: str, changes: dict[str, Any]) -> dict[str, Finding]:
    """The findings on what guards a cable, by the end of their keys."""
    plan = FAMILY.changed(changes)
    told = cable_findings(plan, tuple(cable_drops(Batch(plan))))
    by_key = {finding.key.removeprefix(f"power.{name}."): finding for finding in told}
    return {key: finding for key, finding in by_key.items() if key in SOUND}


def verdicts(name: str, changes: dict[str, Any]) -> dict[str, Verdict]:
    return {key: finding.verdict for key, finding in own(name, changes).items()}


def words(text: Any) -> str:
    return text.text().replace("\N{NO-BREAK SPACE}", " ")


def test_the_family_vans_cables_and_fuses() -> None:
    """Inverter: 1800 W / 0.91 at 12.7 V, 156 A, on 50 mm² for 210 A; pump: 5.6 A on 6 mm² for 45 A."""
    answer = power(FAMILY)
    assert [(drop.guard.ampacity.likely, drop.guard.fuse and drop.guard.fuse.likely) for drop in answer.cables] == [
        (210.0, 200.0),
        (45.0, 7.5),
    ]
    assert [drop.guard.kind for drop in answer.cables] == ["mega", "blade"]
    told = next(finding for finding in answer.findings if finding.key == "power.inverter cable.carries")
    assert words(told.statement).endswith("the inverter draws 160 A, so a mega fuse of 200 A guards it.")
    assert all(drop.guard.current.key == drop.current.key for drop in answer.cables)
    assert all(drop.guard.current.likely == drop.current.likely for drop in answer.cables)


@pytest.mark.parametrize("name", NAMES)
def test_no_example_has_an_alarm_of_its_wiring(name: str) -> None:
    ends = (".carries", ".fuse", ".blows")
    own = [f for f in example_answers(name)["power"].findings if f.key.endswith(ends)]
    assert all(finding.verdict is Verdict.FINE for finding in own)
    assert bool(own) == bool(example(name).cables)


@pytest.mark.parametrize(
    ("name", "changes", "carries", "change"),
    [
        ("inverter cable", {f"{INVERTER}.section": "10 mm²"}, Verdict.FAILS, "Lay 50 mm², with a fuse of 200 A."),
        ("inverter cable", {f"{INVERTER}.section": "25 mm²"}, Verdict.FAILS, "Lay 50 mm², with a fuse of 200 A."),
        (  # 210 A at 105 °C would hold a fuse of 200 A
            "inverter cable",
            {f"{INVERTER}.section": "35 mm²"},
            Verdict.WATCH,
            "Lay 50 mm², with a fuse of 200 A. If its insulation stands more than 70 °C, write "
            "cables.inverter cable.insulation first.",
        ),
        (
            "inverter cable",
            {f"{INVERTER}.section": "35 mm²", f"{INVERTER}.insulation": "70 °C"},
            Verdict.FAILS,
            "Lay 50 mm², with a fuse of 200 A.",
        ),
        ("inverter cable", {f"{INVERTER}.section": "35 mm²", f"{INVERTER}.insulation": "105 °C"}, Verdict.FINE, ""),
        (  # 0.71 of 210 A
            "inverter cable",
            {f"{INVERTER}.engine_space": True, f"{INVERTER}.insulation": "70 °C"},
            Verdict.FAILS,
            "Lay 95 mm², with a fuse of 200 A.",
        ),
        ("pump cable", {"pumps.pump.current": "50 A"}, Verdict.FAILS, "Lay 16 mm², with a fuse of 70 A."),
        ("pump cable", {f"{PUMP}.section": "0.5 mm²", f"{PUMP}.length": "0.1 m"}, Verdict.WATCH, "Lay 1.5 mm²"),
    ],
)
def test_a_cable_that_no_fuse_can_guard_is_a_danger(
    name: str, changes: dict[str, Any], carries: Verdict, change: str
) -> None:
    told = own(name, changes)["carries"]
    assert told.verdict is carries
    assert told.harm is Harm.LIFE
    assert words(told.change).startswith(change) if change else told.change is None


@pytest.mark.parametrize(
    ("fuse", "changes", "said"),
    [
        ("5 A", {}, {"blows": Verdict.FAILS}),
        ("6 A", {}, {"blows": Verdict.WATCH}),
        ("7.5 A", {}, {}),
        ("45 A", {}, {}),
        ("50 A", {}, {"fuse": Verdict.WATCH}),  # 60 A if its insulation is a better one
        ("50 A", {f"{PUMP}.insulation": "70 °C"}, {"fuse": Verdict.FAILS}),
        ("50 A", {f"{PUMP}.insulation": "105 °C"}, {}),
        ("70 A", {}, {"fuse": Verdict.FAILS}),
    ],
)
def test_a_fuse_stands_between_load_and_cable(fuse: str, changes: dict[str, Any], said: dict[str, Verdict]) -> None:
    told = {f"{PUMP}.fuse": fuse, **changes}
    assert verdicts("pump cable", told) == SOUND | said
    for finding in own("pump cable", told).values():
        wrong = finding.verdict is not Verdict.FINE
        assert (finding.change is not None and words(finding.change).startswith("Fit a fuse of 7.5 A.")) == wrong


def test_what_the_plan_says_is_shown_where_it_fits() -> None:
    for said, shown in (("15 A", 15.0), ("70 A", 7.5), ("5 A", 7.5), ("13 A", 13.0)):
        guard = power(FAMILY.changed({f"{PUMP}.fuse": said})).cables[1].guard
        assert guard.fuse is not None and guard.fuse.likely == shown
        assert guard.kind == ("" if said == "13 A" else "blade")


def test_gauges_are_judged_by_their_own_table() -> None:
    us = {"van.units": "us", f"{INVERTER}.section": None}
    assert verdicts("inverter cable", {**us, f"{INVERTER}.awg": 0})["carries"] is Verdict.FINE  # 245 A at 80 °C
    thin = own("inverter cable", {**us, f"{INVERTER}.awg": 4})["carries"]
    assert thin.verdict is Verdict.FAILS and words(thin.change) == "Lay 1/0 AWG, with a fuse of 200 A."


def test_gauges_have_a_column_where_the_plan_says_them() -> None:
    def heads(changes: dict[str, Any]) -> list[str]:
        table = next(table for table in power(FAMILY.changed(changes)).tables if table.key == "cables")
        assert all(len(row) == len(table.columns) for row in table.rows)
        return [column.heading for column in table.columns]

    awg = {f"{PUMP}.section": None, f"{PUMP}.awg": -1}
    both = {**awg, f"{INVERTER}.section": None, f"{INVERTER}.awg": 0}
    assert "gauge" not in heads({}) and {"gauge", "section"} < set(heads(awg)) and "section" not in heads(both)
    assert 'cable."pump cable".section' in power(FAMILY.changed(both)).numbers
    table = next(table for table in power(FAMILY.changed(awg)).tables if table.key == "cables")
    assert [row[3] for row in table.rows] == ["", "2/0 AWG"]


def test_their_harm_is_that_of_fire_and_of_what_does_not_work() -> None:
    assert {harm_of(f"power.any cable.{end}") for end in ("carries", "fuse")} == {Harm.LIFE}
    assert harm_of("power.any cable.blows") is Harm.DOES_NOT_WORK


@given(plans())
@settings(max_examples=25, deadline=None, suppress_health_check=list(HealthCheck))
def test_a_fuse_stands_between_load_and_cable_in_every_plan(raw: dict[str, Any]) -> None:
    plan = Plan.of(raw, file=True)
    for drop in cable_drops(Batch(plan)):
        guard = drop.guard
        rows = guard.ampacity.values
        assert (rows > 0.0).all() and guard.current.key == drop.current.key
        sold = fuse_sizes()
        fits = ((sold >= guard.least.likely) & (sold <= guard.ampacity.likely)).any()
        if guard.fuse is None:
            assert not fits
            continue
        assert 1.25 * guard.current.likely <= guard.fuse.likely * (1 + 1e-6)
        assert guard.fuse.likely <= guard.ampacity.likely * (1 + 1e-6)
        assert guard.kind == fuse_kind(guard.fuse.likely)
        assert np.isclose(guard.fuse.likely, sold).any() or guard.fuse.likely == plan.cables[drop.name].fuse
