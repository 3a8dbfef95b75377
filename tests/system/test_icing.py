from __future__ import annotations

import pytest

from tests.answers.frosty import HOSE, frosty
from tests.examples import example
from vanwater.system.batch import Batch, Row
from vanwater.system.icing import BLOCK, BURST, block_share, burst_share, open_ended, open_row, run_row

ENDS = [Row("low", factors={BLOCK: 0.5}), Row("early", factors={BURST: 0.0}), Row("late", factors={BURST: 2.0})]


def kind(**hose: object) -> str:
    return run_row(Batch(frosty(runs__hose=HOSE | hose)), "hose").key


def test_what_blocks_is_the_plans_share() -> None:
    assert block_share(Batch(frosty(), ENDS)) == pytest.approx([0.07, 0.035, 0.07, 0.07])
    assert block_share(Batch(frosty(frost__ice_share="90 %"), [Row("more", factors={BLOCK: 2.0})]))[1] == 1.0


def test_what_bursts_is_so_much_more_and_never_more_than_all() -> None:
    batch = Batch(frosty(runs__hose=HOSE | {"size": "copper 12 mm"}), ENDS)
    assert burst_share(batch, run_row(batch, "hose")) == pytest.approx([0.1, 0.065, 0.08, 0.12])
    assert burst_share(batch, open_row()) == pytest.approx([0.92, 0.885, 0.82, 0.97])
    assert burst_share(Batch(frosty(frost__ice_share="50 %")), open_row()) == pytest.approx(1.0)


def test_a_run_stands_what_its_wall_does() -> None:
    assert (kind(), kind(size="pex 12 mm"), kind(size="multilayer 16 mm")) == ("soft", "yielding", "stiff")
    bare = {key: value for key, value in HOSE.items() if key != "size"} | {"bore": "10 mm"}
    said = {material: frosty(runs__hose=bare | {"material": material}) for material in ("copper", "silicone")}
    assert [run_row(Batch(plan), "hose").key for plan in said.values()] == ["stiff", "soft"]
    assert run_row(Batch(frosty(runs__hose=bare)), "hose").key == "stiff"  # not said


def test_a_waste_run_has_air_beside_its_water() -> None:
    grey = {"holds": "grey", "length": "0.6 m", "width": "0.5 m", "height": "0.25 m", "z": "-0.3 m"}
    waste = {"from": "tap", "to": "grey", "size": "waste pipe 32 mm", "length": "2 m", "slope": "0.2 %"}
    batch = Batch(frosty(tanks__grey=grey, runs__waste=waste))
    assert run_row(batch, "waste").key == "soft"


def test_behind_a_mixing_tap_the_end_is_open_behind_a_thermostatic_valve_it_is_not() -> None:
    plan = example("family-winter")
    assert open_ended(plan, "handset hose") and not open_ended(plan, "hot shower line")
    valve = plan.changed({"mixers.shower mixer.kind": "thermostatic"})
    assert not open_ended(valve, "handset hose")
