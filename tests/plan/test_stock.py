"""Parts taken by name: what the stock says, what the builder says beside it, and names that are no stock."""

from __future__ import annotations

import tomllib
from typing import Any

import pytest

from vanwater.plan.model import Plan
from vanwater.plan.part import Stocked
from vanwater.plan.problems import PlanError, Problem
from vanwater.plan.shelf import shelf_of
from vanwater.plan.stock import SINGLE, STOCKED, Shelf, generic, with_stock
from vanwater.plan.tables import resource
from vanwater.quantities import FLOW, PRESSURE, VOLUME

TEXT = resource("data", "tables", "stock.toml").read_text(encoding="utf-8")


def plan(raw: dict[str, Any], shelf: Shelf | None = None) -> Plan:
    return Plan.of({"van": {"name": "x"}, "household": {"people": 1}} | raw, file=True, shelf=shelf)


def refused(raw: dict[str, Any], shelf: Shelf | None = None) -> list[Problem]:
    with pytest.raises(PlanError) as caught:
        plan(raw, shelf)
    return list(caught.value.problems)


def test_the_stock_has_what_a_plan_needs_and_every_part_of_it_is_possible() -> None:
    assert {kind: len(parts) for kind, parts in generic().items()} == {
        kind: len(parts) for kind, parts in tomllib.loads(TEXT).items()
    }
    assert {"pumps", "accumulators", "heaters", "pads", "tanks"} <= set(generic())
    for kind, parts in tomllib.loads(TEXT).items():  # as a shelf that does not shadow it, so each field is looked at
        for name, said in parts.items():
            assert shelf_of("x.csv", _csv(kind, f"own {name}"[:40], said)).parts[kind]
            assert said["about"]
    assert all("from memory" in part.basis for parts in generic().values() for part in parts.values())


def _csv(kind: str, name: str, said: dict[str, Any]) -> str:
    points = {
        key: "; ".join(f"{flow} at {rise}" for flow, rise in value) for key, value in said.items() if key == "curve"
    }
    cells = {"table": kind, "name": name} | {
        key: str(value).lower() if value is False else str(value) for key, value in said.items()
    }
    cells |= points
    return ",".join(cells) + "\n" + ",".join(f'"{cell}"' for cell in cells.values())


@pytest.mark.parametrize(
    ("name", "class_of"),
    [
        ("small diaphragm pump", "7 L/min"),
        ("medium diaphragm pump", "11 L/min"),
        ("large diaphragm pump", "17 L/min"),
        ("by-pass diaphragm pump", "12 L/min"),
        ("speed-controlled diaphragm pump", "14 L/min"),
    ],
)
def test_a_pump_gives_its_class_at_an_open_end(name: str, class_of: str) -> None:
    curve = plan({"pumps": {"p": {"stock": name}}}).pumps["p"].curve
    assert curve is not None
    assert curve[-1] == (pytest.approx(FLOW.read(class_of)), 0.0)
    assert class_of in generic()["pumps"][name].about


@pytest.mark.parametrize(
    "name", [name for name in generic()["tanks"] if "capacity" not in generic()["tanks"][name].fields]
)
def test_a_tank_holds_what_it_is_called(name: str) -> None:
    tank = plan({"tanks": {"t": {"stock": name}}}).tanks["t"]
    assert tank.length is not None and tank.width is not None and tank.height is not None
    nominal = VOLUME.read(" ".join(name.split()[-2:]))
    assert tank.length * tank.width * tank.height == pytest.approx(nominal, rel=0.03)


def test_what_the_plan_says_goes_before_the_stock() -> None:
    raw = {"pumps": {"p": {"stock": "small diaphragm pump", "cut_out": "1.9 bar"}}}
    pump = plan(raw).pumps["p"]
    assert pump.cut_out == pytest.approx(PRESSURE.read("1.9 bar"))
    assert pump.cut_in == pytest.approx(PRESSURE.read("1.0 bar"))
    assert plan(raw).at("pumps.p.stock") == "small diaphragm pump"
    assert plan(raw).own["pumps"] == raw["pumps"]


def test_an_own_capacity_or_curve_takes_the_place_of_all_that_belongs_to_it() -> None:
    tank = plan({"tanks": {"t": {"stock": "fresh tank 70 L", "capacity": "66 L"}}}).tanks["t"]
    assert (tank.capacity, tank.length, tank.height) == (pytest.approx(0.066), None, None)
    (problem,) = refused({"pumps": {"p": {"stock": "hand pump", "stroke": "9 L"}}})
    assert problem.address == "pumps.p.stroke"
    curve = [["0 L/min", "2 bar"], ["9 L/min", "0 bar"]]
    (problem,) = refused({"pumps": {"p": {"stock": "small diaphragm pump", "curve": curve}}})
    assert problem.address == "pumps.p.curve_volts"


def test_a_plan_made_of_stock_can_be_changed_where_the_stock_speaks() -> None:
    before = plan({"pumps": {"p": {"stock": "small diaphragm pump"}}})
    after = before.changed({"pumps.p.cut_in": "1.1 bar", "pumps.p.curve.0.1": "3.3 bar"})
    assert after.pumps["p"].cut_in == pytest.approx(1.1e5)
    assert after.pumps["p"].curve is not None and before.pumps["p"].curve is not None
    assert after.pumps["p"].curve[0][1] == pytest.approx(3.3e5)
    assert after.pumps["p"].curve[1:] == before.pumps["p"].curve[1:]
    larger = before.changed({"pumps.p.stock": "large diaphragm pump"})
    assert larger.pumps["p"].cut_out == pytest.approx(3.8e5)


@pytest.mark.parametrize("kind", [kind for kind in STOCKED if kind in generic()])
def test_a_name_that_is_no_stock_is_told_with_the_nearest_and_the_way_to_the_list(kind: str) -> None:
    name = next(iter(generic()[kind]))
    part: dict[str, Any] = {"stock": name[:-2]}
    if kind == "accumulators":
        part["at"] = "t"
    if kind == "pads":
        part["tank"] = "f"
    raw: dict[str, Any] = {"tees": {"t": {}}, "tanks": {"f": {"holds": "fresh", "capacity": "9 L"}}}
    raw[kind] = part if kind in SINGLE else raw.get(kind, {}) | {"p": part}
    (problem,) = refused(raw)
    assert problem.address == f"{kind}.stock" if kind in SINGLE else f"{kind}.p.stock"
    assert f'"{name[:-2]}" does not exist' in problem.message
    assert "Did you mean" in problem.slip
    assert f"`vanwater stock {kind}` lists them." in problem.slip


@pytest.mark.parametrize(
    ("raw", "address", "word"),
    [
        ({"runs": {"r": {"from": "a", "to": "b", "size": "pvc hose 99 mm"}}}, "runs.r.size", "sizes"),
        ({"runs": {"r": {"from": "a", "to": "b", "fittings": {"elbo": 1}}}}, "runs.r.fittings.elbo", "fittings"),
        ({"outlets": {"o": {"type": "shower tap"}}}, "outlets.o.type", "outlets"),
        ({"tanks": {"t": {"holds": "fresh", "capacity": "9 L", "material": "tin"}}}, "tanks.t.material", "materials"),
        ({"tees": {"a": {}, "b": {}, "c": {"joint": "glue"}}}, "tees.c.joint", "joints"),
        ({"household": {"people": 1, "habits": "carefull"}}, "household.habits", "habits"),
    ],
)
def test_every_error_on_a_stock_name_leads_to_the_list(raw: dict[str, Any], address: str, word: str) -> None:
    (problem,) = refused({"tees": {"a": {}, "b": {}}} | raw)
    assert problem.address == address
    assert f"`vanwater stock {word}` lists them." in problem.slip


def test_a_clash_with_the_stock_names_the_stock() -> None:
    (problem,) = refused({"pumps": {"p": {"stock": "small diaphragm pump", "cut_out": "0.9 bar"}}})
    assert problem.address == "pumps.p.cut_in"
    assert 'comes from the stock "small diaphragm pump"' in problem.slip


def test_a_stock_pump_is_of_one_kind() -> None:
    (problem,) = refused({"pumps": {"p": {"stock": "small diaphragm pump", "kind": "hand"}}})
    assert problem.address == "pumps.p.kind"
    assert "no hand pump" in problem.message
    assert plan({"pumps": {"p": {"stock": "hand pump", "kind": "hand"}}}).pumps["p"].stroke == pytest.approx(1.5e-4)


def test_every_table_of_stock_has_parts_that_take_it() -> None:
    hints = {kind: Plan.model_fields[kind].annotation for kind in STOCKED[:-1]}
    assert all(Stocked.__name__ in {base.__name__ for base in _part(hint).__mro__} for hint in hints.values())
    assert with_stock({"pumps": 3, "battery": 4, "tanks": {"t": 5}}, Shelf()) == (
        {"pumps": 3, "battery": 4, "tanks": {"t": 5}},
        [],
    )


def _part(hint: Any) -> type:
    kinds = [kind for kind in (*getattr(hint, "__args__", ()), hint) if isinstance(kind, type)]
    return next(kind for kind in kinds if issubclass(kind, Stocked))
