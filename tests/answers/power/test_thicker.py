from __future__ import annotations

from typing import Any

import pytest

from tests.examples import example
from vanwater.answers.core.finding import Verdict
from vanwater.answers.power.answer import power
from vanwater.answers.power.thicker import thicker
from vanwater.plan.model import Plan

FAMILY = example("family-winter")
INVERTER = "cables.inverter cable"
TEN = {f"{INVERTER}.section": "10 mm²"}


def told(plan: Plan, *, nearer: bool = True) -> str:
    return thicker(plan, "inverter cable", nearer=nearer).text().replace("\N{NO-BREAK SPACE}", " ")


@pytest.mark.parametrize(
    ("changes", "words"),
    [
        (TEN, "Lay 50 mm², with a fuse of 200 A, or"),
        ({**TEN, f"{INVERTER}.insulation": "105 °C"}, "Lay 35 mm², with a fuse of 200 A, or"),
        ({**TEN, f"{INVERTER}.length": "5 m"}, "Lay 95 mm², with a fuse of 200 A, or"),
        ({**TEN, "van.units": "us"}, "Lay 1/0 AWG, with a fuse of 200 A, or"),
    ],
)
def test_the_size_told_cures(changes: dict[str, Any], words: str) -> None:
    """With the size and the fuse that are told, all findings on the cable are fine, and it loses 3 % at most."""
    plan = FAMILY.changed(changes)
    assert told(plan).startswith(words)
    assert told(plan, nearer=False) == words.removesuffix(", or") + "."
    size = words.split("Lay ")[1].split(",")[0]
    new = {f"{INVERTER}.section": None, f"{INVERTER}.awg": 0} if "AWG" in size else {f"{INVERTER}.section": size}
    answer = power(plan.changed({**new, f"{INVERTER}.fuse": "200 A"}))
    own = [finding for finding in answer.findings if finding.key.startswith("power.inverter cable.")]
    assert len(own) >= 4 and {finding.verdict for finding in own} == {Verdict.FINE}
    assert answer.cables[0].share.likely <= 0.03


def test_what_no_single_cable_can_do_several_do() -> None:
    strong = FAMILY.changed({**TEN, "inverter.rating": "6000 W", "appliances.hob.power": "6000 W"})
    assert told(strong, nearer=False) == "Lay 2 cables of 120 mm² beside each other, each with a fuse of 350 A."
