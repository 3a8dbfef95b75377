from __future__ import annotations

import pytest

from vanwater.panels.part_picks import fitting, is_pick, picked, picks
from vanwater.plan.file import PlanFile, read
from vanwater.plan.stock import generic


def test_what_the_stock_says_goes_and_the_parts_place_stays(family: PlanFile) -> None:
    part = picked(family.plan, "pumps.pump.stock", "medium diaphragm pump")
    assert part == {"stock": "medium diaphragm pump", "x": "2.15 m", "y": "-0.55 m", "z": "0.05 m"}
    plan = family.plan.changed({"pumps.pump": part})
    assert plan.at("pumps.pump.cut_in") == pytest.approx(1.7e5)


def test_only_what_fits_into_the_plan_is_offered(example: PlanFile) -> None:
    plan = example.plan
    for table in ("pumps", "accumulators", "heaters"):
        for name in getattr(plan, table):
            address = f"{table}.{name}.stock"
            offered = fitting(plan, address)
            assert offered
            assert set(offered) <= generic()[table].keys()
            for other in offered[:2]:
                assert plan.changed({address.rpartition(".")[0]: picked(plan, address, other)}).at(address) == other


def test_a_submersible_pump_is_not_replaced_by_one_that_stands_dry() -> None:
    from vanwater.plan.tables import resource

    plan = read(resource("data", "plans", "touring-campsites.toml")).plan
    assert fitting(plan, "pumps.pump.stock") == ("small submersible pump", "large submersible pump")


def test_the_builders_own_parts_come_first(own_file: PlanFile) -> None:
    (own_file.path.parent / "parts.toml").write_text('[heaters."my heater"]\nvolume = "8 L"\n', encoding="utf-8")
    own_file.path.write_text(f'shelf = "parts.toml"\n{own_file.text}', encoding="utf-8")
    plan = read(own_file.path).plan
    assert fitting(plan, "heaters.heater.stock")[0] == "my heater"


def test_a_part_is_picked_once_for_all_its_controls(family: PlanFile) -> None:
    addresses = ("pumps.pump.volts", "pumps.pump.cut_in", "runs.trunk.size", "pads.grey pad.power", "site.wind")
    assert tuple(picks(family.plan, addresses)) == ("pumps.pump.stock",)
    assert tuple(picks(family.plan, ("accumulators.not planned.volume",))) == ()
    assert is_pick("pumps.pump.stock") and not is_pick("pumps.pump.volts")
