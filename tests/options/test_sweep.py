from __future__ import annotations

from collections.abc import Iterator
from concurrent.futures import Executor, ProcessPoolExecutor, ThreadPoolExecutor
from typing import Any, ClassVar

import numpy as np
import pytest
from distributed import Client

from tests.examples import example
from vanwater.answers.questions import QUESTIONS
from vanwater.options import rows
from vanwater.options import sweep as module
from vanwater.options.sweep import Sweep, sweep
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError

FAMILY = example("family-winter")
DESIGNS: dict[str, Any] = {"tanks.fresh.length": ["90 cm", "1 m", "9 m"], "household.people": [2, 4]}


def own(**values: Any) -> dict[str, float]:
    plan = FAMILY.changed({address.replace("__", "."): value for address, value in values.items()})
    numbers = QUESTIONS["weight"].ask(plan).numbers.items()
    return {key: number.likely for key, number in numbers if number.unranged not in ("as planned", "a limit")}


def bits(swept: Sweep) -> dict[str, bytes]:
    return {key: swept[key].tobytes() for key in swept}


@pytest.fixture(scope="module")
def swept() -> Sweep:
    return sweep(FAMILY, DESIGNS, "weight", progress=False)


def test_each_row_is_what_its_own_plan_says(swept: Sweep) -> None:
    assert set(swept) == set(own())
    for place, length in enumerate(("90 cm", "1 m")):
        for other, people in enumerate((2, 4)):
            alone = own(tanks__fresh__length=length, household__people=people)
            assert {key: swept[key][place, other] for key in swept} == alone
    assert swept["tank.fresh.mass"].shape == (3, 2)
    assert swept["tank.fresh.mass"][1, 0] > swept["tank.fresh.mass"][0, 0]


def test_a_row_that_fails_is_a_row_with_its_reason(swept: Sweep) -> None:
    assert list(swept.failed) == [4, 5]
    assert "tanks.fresh.length: 9 m is not believable" in swept.failed[4].replace("\N{NO-BREAK SPACE}", " ")
    assert all(np.isnan(swept[key][2]).all() for key in swept)
    assert np.isfinite(swept["van.mass.full"][:2]).all()
    assert repr(swept).endswith("2 × household.people: 61 numbers, 2 rows failed>".replace("61", str(len(swept))))


def test_whatever_breaks_in_a_row_stays_in_it(monkeypatch: pytest.MonkeyPatch) -> None:
    asked = QUESTIONS["weight"].answer

    def answer(plan: Plan) -> Any:
        if plan.household.people == 3:
            raise ZeroDivisionError
        return asked(plan)

    broken = {**QUESTIONS, "weight": module.QUESTIONS["weight"].__class__(key="weight", title="", answer=answer)}
    monkeypatch.setattr(module, "QUESTIONS", broken)
    monkeypatch.setattr(rows, "QUESTIONS", broken)
    several = sweep(FAMILY, {"household.people": [2, 3, 4]}, "weight")
    assert several.failed == {1: "ZeroDivisionError"}
    assert np.isnan(several["van.mass.full"]).tolist() == [False, True, False]


def pools() -> Iterator[Executor]:
    yield ThreadPoolExecutor(3)
    yield ProcessPoolExecutor(2)


def test_neither_who_works_nor_in_which_pieces_changes_a_bit(swept: Sweep, monkeypatch: pytest.MonkeyPatch) -> None:
    for chunk in (1, 4):
        monkeypatch.setattr(module, "CHUNK", chunk)
        for pool in pools():
            with pool:
                other = sweep(FAMILY, DESIGNS, "weight", executor=pool)
            assert bits(other) == bits(swept)
            assert other.failed == swept.failed
            assert {key: quantity.name for key, quantity in other.quantities.items()} == {
                key: quantity.name for key, quantity in swept.quantities.items()
            }


def test_a_cluster_of_several_machines_may_work_it_out(swept: Sweep) -> None:
    with Client(n_workers=1, threads_per_worker=1, processes=False, dashboard_address=None) as client:
        assert bits(sweep(FAMILY, DESIGNS, "weight", executor=client.get_executor())) == bits(swept)


def test_what_changes_the_structure_is_swept_too() -> None:
    chest = {"mass": "40 kg", "x": "2 m"}
    loads = sweep(FAMILY, {"loads.luggage": [None, FAMILY.own["loads"]["luggage"]], "loads.chest": [chest]}, "weight")
    luggage, mass = loads["load.luggage.on_front"], loads["van.mass.full"]
    assert np.isnan(luggage[0, 0]) and np.isfinite(luggage[1, 0])
    assert mass[1, 0] - mass[0, 0] == pytest.approx(FAMILY.loads["luggage"].mass)


def test_questions_and_single_numbers_can_be_chosen() -> None:
    people = {"household.people": [2]}
    assert list(sweep(FAMILY, people, "tank.fresh.mass")) == ["tank.fresh.mass"]
    both = sweep(FAMILY, people, ["weight", "tank.fresh.mass"])
    assert both.keys() == own().keys()
    assert sweep(FAMILY, people).keys() > both.keys()


def test_a_number_that_nobody_knows_is_refused_before_a_row_is_worked_out(monkeypatch: pytest.MonkeyPatch) -> None:
    def never(*_: Any) -> None:
        raise AssertionError("a row was worked out")

    monkeypatch.setattr(module, "worked_out", never)
    with pytest.raises(KeyError, match=r'no number "van\.mass\.ful".*mean "van\.mass\.full"'):
        sweep(FAMILY, {"household.people": [2]}, ["van.mass.ful"])
    with pytest.raises(KeyError, match=r'no number "wieght".*mean "weight"'):
        sweep(FAMILY, {"household.people": [2]}, "wieght")
    with pytest.raises(PlanError, match="too many"):
        sweep(FAMILY, {"household.people": range(10**9)})


def test_a_key_that_is_no_number_of_the_sweep_is_refused_with_the_nearest(swept: Sweep) -> None:
    with pytest.raises(KeyError, match=r'Did you mean "van\.mass\.full"'):
        swept["van.mass.ful"]


def test_a_frame_has_units_in_its_heads(swept: Sweep) -> None:
    frame = swept.frame()
    assert frame["tanks.fresh.length [m]"].tolist() == pytest.approx([0.9, 0.9, 1.0, 1.0, 9.0, 9.0])
    assert frame["household.people"].tolist() == [2, 4] * 3
    assert frame["tank.fresh.mass [kg]"].tolist() == pytest.approx(swept["tank.fresh.mass"].ravel(), nan_ok=True)
    assert [bool(why) for why in frame["failed"]] == [False] * 4 + [True] * 2
    us = swept.frame(us=True)
    assert us["tank.fresh.mass [lb]"][0] == pytest.approx(swept["tank.fresh.mass"][0, 0] / 0.45359237)
    si = swept.frame(si=True)
    assert si["tanks.fresh.length [m]"].tolist() == pytest.approx([0.9, 0.9, 1.0, 1.0, 9.0, 9.0])
    warm = sweep(FAMILY, {"site.cold_water": ["5 °C"], "tanks.fresh.height": ["0.25 m"]}, "weight")
    assert warm.frame()["site.cold_water [°C]"][0] == pytest.approx(5.0)
    assert warm.frame(si=True)["site.cold_water [K]"][0] == pytest.approx(278.15)
    assert "failed" not in warm.frame()


class Bar:
    """A bar that is not drawn."""

    shown: ClassVar[list[Bar]] = []

    def __init__(self, **_: Any) -> None:
        self.tasks: list[Any] = []
        self.completed: list[int] = []
        self.running = False

    def start(self) -> None:
        self.running = True
        Bar.shown.append(self)

    def add_task(self, _: str, total: int) -> None:
        self.total = total
        self.tasks.append(type("Task", (), {"id": 0}))

    def update(self, _: int, completed: int) -> None:
        self.completed.append(completed)

    def stop(self) -> None:
        self.running = False


@pytest.mark.parametrize(
    ("patience", "progress", "told"),
    [(60.0, None, []), (0.0, None, [[1, 2, 3]]), (0.0, False, []), (60.0, True, [[1, 2, 3]])],
)
def test_a_bar_is_shown_where_it_takes_long_or_is_wanted(
    monkeypatch: pytest.MonkeyPatch, patience: float, progress: bool | None, told: list[list[int]]
) -> None:
    monkeypatch.setattr(Bar, "shown", [])
    for name, value in (("Progress", Bar), ("PATIENCE", patience), ("CHUNK", 1)):
        monkeypatch.setattr(module, name, value)
    sweep(FAMILY, {"household.people": [2, 3, 4]}, "weight", progress=progress)
    assert [bar.completed for bar in Bar.shown] == told
    assert all(bar.total == 3 and not bar.running for bar in Bar.shown)
