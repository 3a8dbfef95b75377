from __future__ import annotations

import pytest

from tests.examples import example
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError
from vanwater.system.batch import Batch
from vanwater.system.converter import behind_converter, converter_share, load_volts, unlike
from vanwater.system.day import day_of
from vanwater.system.power import cable_share, pump_energy, volts_before

OWN = example("long-stay-dry-toilet")
SMALL = {"pumps.pump.curve_volts": "12 V", "pumps.pump.volts": "12 V"}
CONVERTER = {"converter": {"volts": "12 V", "efficiency": "80 %"}}


def pumped(plan: Plan) -> float:
    """What the pump takes from the battery a day [W]."""
    (pump,) = (one for one in day_of(Batch(plan)).consumers if one.kind == "pump")
    return float(day_of(Batch(plan)).energy(pump)[0])


def test_a_pump_of_the_bank_s_volts_needs_no_converter() -> None:
    plan = OWN.changed(CONVERTER)
    assert not unlike(plan, "pump") and not behind_converter(plan, "pump")
    assert pumped(plan) == pumped(OWN)


def test_the_loss_of_a_converter_is_counted_once() -> None:
    bare, behind = OWN.changed(SMALL), OWN.changed({**SMALL, **CONVERTER})
    assert unlike(bare, "pump") and not behind_converter(bare, "pump")
    assert behind_converter(behind, "pump")
    assert pump_energy(Batch(behind))[0] == pytest.approx(pump_energy(Batch(bare))[0] / 0.8)
    assert pumped(behind) == pytest.approx(pumped(bare) / 0.8)


def test_a_converter_of_other_volts_feeds_nothing() -> None:
    plan = OWN.changed({**SMALL, "converter": {"volts": "48 V"}})
    assert not behind_converter(plan, "pump")
    assert converter_share(Batch(plan), "pump")[0] == 1.0


def test_an_element_of_the_converter_s_volts_is_a_legal_plan() -> None:
    element = {"heaters.heater.source": "battery", "heaters.heater.volts": "12 V", "heaters.heater.power": "200 W"}
    with pytest.raises(PlanError, match="made for 12"):
        OWN.changed(element)
    plan = OWN.changed({**element, **CONVERTER})
    assert behind_converter(plan, "heater")
    told = {one.kind: day_of(Batch(plan)).energy(one)[0] for one in day_of(Batch(plan)).consumers}
    lossless = OWN.changed({**element, "converter": {"volts": "12 V", "efficiency": "100 %"}})
    whole = {one.kind: day_of(Batch(lossless)).energy(one)[0] for one in day_of(Batch(lossless)).consumers}
    assert told["hot water"] == pytest.approx(whole["hot water"] / 0.8)


def test_a_cable_behind_a_converter_begins_at_its_volts() -> None:
    cable = {"cables.pump cable": {"to": "pump", "length": "5 m", "section": "2.5 mm²"}}
    plan = OWN.changed({**SMALL, **CONVERTER, **cable})
    assert volts_before(Batch(plan), "pump")[0] == pytest.approx(12.0)
    assert cable_share(Batch(plan), "pump", Batch(plan).number("pumps.pump.current") * 12.0)[0] < 1.0
    assert load_volts(plan, "heater") is None
