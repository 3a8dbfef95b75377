from __future__ import annotations

from pathlib import Path

import pytest

from vanwater.plan.household import Use
from vanwater.plan.model import Plan
from vanwater.plan.tables import HABITS, fittings, habits, joints, materials, outlets, pipes, resource


def test_tables_are_keyed_by_their_own_keys_and_every_row_has_a_source() -> None:
    for table in (pipes(), fittings(), outlets(), materials(), joints()):
        assert table
        for key, row in table.items():
            assert row.key == key
            assert row.source


def test_stock_sizes_are_pipes_that_can_be() -> None:
    for row in pipes().values():
        assert row.outside is None or row.outside > row.bore
        assert 0 < row.roughness <= row.bore / 20
    assert pipes()["pex 12 mm"].bore == pytest.approx(8.6e-3, abs=0.2e-3)


def test_fittings_say_their_loss_in_one_way() -> None:
    for row in fittings().values():
        ways = [row.k, row.length_in_bores, row.equivalent_length, row.loss]
        assert sum(way is not None for way in ways) == 1, row.key
        assert (row.loss is None) == (row.loss_at is None)
        assert row.clogged_factor >= 1.0


def test_every_pressure_pipe_is_joined_by_joints_that_hold_on_its_material() -> None:
    for pipe in pipes().values():
        for joint in pipe.joint if pipe.kind != "drain" else ():
            row = joints()[joint]
            assert pipe.material in row.on, (pipe.key, joint)
            assert row.kind == "end"
            assert pipe.standard.startswith(row.standard), (pipe.key, joint)
    materials_known = {pipe.material for pipe in pipes().values()}
    assert all(set(row.on) <= materials_known for row in joints().values())


def test_every_fitting_is_joined_in_a_way_that_is_known() -> None:
    assert {row.joint for row in fittings().values()} <= {*joints(), "any", "none", "threaded"}


@pytest.mark.parametrize("standard", ["bsp", "npt"])
def test_threads_grow_with_their_size_and_pitch_never_falls(standard: str) -> None:
    rows = [row for key, row in joints().items() if key.startswith(standard)]
    outside, pitch = ([getattr(row, name) for row in rows] for name in ("outside", "pitch"))
    assert outside == sorted(outside) and len(set(outside)) == len(rows) == 8
    assert pitch == sorted(pitch)
    inch = [round(0.0254 / row.pitch, 1) for row in rows if row.pitch]
    assert (
        inch == {"bsp": [19, 19, 14, 14, *4 * [11]], "npt": [18, 18, 14, 14, *4 * [11.5]]}[standard]
    )  # threads an inch


def test_a_legal_limit_is_no_outlet() -> None:
    assert "handset" in outlets()
    assert not any("limit" in key for key in outlets())


@pytest.mark.parametrize("habit", HABITS)
def test_every_habit_is_a_plan_by_itself(habit: str) -> None:
    plan = Plan.of({"van": {"name": "x"}, "household": {"people": 2, "habits": habit}}, file=True)
    assert all(isinstance(use, Use) for use in plan.uses.values())
    assert {"shower", "dishes", "drinking"} <= set(plan.uses)
    assert plan.uses["shower"].hot
    a_day = sum(use.a_day * use.each_time * (2 if use.per == "person" else 1) for use in plan.uses.values()) * 86400
    assert 5e-3 < a_day < 0.2


def test_careful_people_use_least() -> None:
    litres = []
    for habit in HABITS:
        plan = Plan.of({"van": {"name": "x"}, "household": {"people": 2, "habits": habit}})
        litres.append(sum(use.a_day * use.each_time * (2 if use.per == "person" else 1) for use in plan.uses.values()))
    assert litres == sorted(litres)
    assert len(set(litres)) == 3


def test_habit_that_is_none_has_no_uses() -> None:
    assert habits("lavish") == {}


def test_resource_is_found_or_named_as_missing() -> None:
    assert resource("data", "tables", "pipes.csv").is_file()
    with pytest.raises(FileNotFoundError, match="data/nothing is missing from the installation"):
        resource("data", "nothing")
    assert isinstance(resource("data"), Path)
