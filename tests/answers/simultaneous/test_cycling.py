"""Sets of outlets under which the pump cycles, against a march through time and against each outlet alone."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
import pytest
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

from tests.pumped import pumped
from vanwater.answers.core.finding import Verdict
from vanwater.answers.simultaneous.answer import simultaneous
from vanwater.answers.simultaneous.sets import OpenSet, worst
from vanwater.plan.model import Plan

L_MIN = 1e-3 / 60
CUT_IN, CUT_OUT, GIVES = 1.2e5, 1.7e5, 2e-10
WEIGHT = 999.5 * 9.80665
HEIGHTS = {"tap": 0.9, "rinse": 0.4}  # over the pump
TRUNK_K, BORE = 400.0, 0.015
CURVE = [["0 L/min", "2.8 bar"], ["11 L/min", "0 bar"]]


def _van(**fields: Any) -> dict[str, Any]:
    """Two taps behind a wide, short trunk that takes next to nothing but its K."""
    switch = {"cut_in": "1.2 bar", "cut_out": "1.7 bar", "line_gives": "20 mL/bar", "curve": CURVE, "volts": "13 V"}
    raw = pumped("diaphragm", **{**switch, **fields})
    for run in raw["runs"].values():
        run.pop("size"), run.pop("fittings", None)
        run |= {"bore": "15 mm", "length": "2 cm"}
    raw["runs"]["trunk"]["k"] = TRUNK_K
    raw["outlets"]["tap"] |= {"flow": "1.5 L/min", "wanted": "1 L/min"}
    raw["outlets"]["rinse"] |= {"flow": "2 L/min"}
    return raw


CONSTANTS = {"tap": 1.5 * L_MIN / np.sqrt(1e5), "rinse": 2.0 * L_MIN / np.sqrt(1e5)}


def _drawn(pressure: float) -> dict[str, float]:
    """Flow at each tap with a pressure behind the pump: the trunk takes what both draw."""
    area = 0.25 * np.pi * BORE**2

    def at(node: float) -> dict[str, float]:
        heads = {tap: node - WEIGHT * height for tap, height in HEIGHTS.items()}
        return {tap: CONSTANTS[tap] * np.sqrt(max(head, 0.0)) for tap, head in heads.items()}

    def gap(node: float) -> float:
        return pressure - node - 0.5 * TRUNK_K * 999.5 * (sum(at(node).values()) / area) ** 2

    return at(float(brentq(gap, 0.0, pressure)))


def _marched() -> dict[str, float]:
    """Litres at each tap over one cycle through time, over its length; for how long the pump runs and rests."""

    def supply(pressure: float) -> float:
        suction = WEIGHT * 0.05  # the water stands at the pick-up, the pump over it
        return 11.0 * L_MIN * (1.0 - (pressure + suction) / 2.8e5)

    def march(running: bool, start: float, end: float) -> tuple[float, np.ndarray[Any, Any]]:
        def rate(_: float, state: np.ndarray[Any, Any]) -> list[float]:
            taps = _drawn(state[0])
            brings = supply(state[0]) if running else 0.0
            return [(brings - sum(taps.values())) / GIVES, taps["tap"], taps["rinse"]]

        arrived: Callable[..., float] = lambda _, state: state[0] - end  # noqa: E731
        arrived.terminal = True  # type: ignore[attr-defined]
        followed = solve_ivp(rate, (0.0, 1e3), [start, 0.0, 0.0], events=arrived, rtol=1e-8, atol=[1e-2, 1e-12, 1e-12])
        return followed.t_events[0][0], followed.y_events[0][0][1:]

    (on, given_on), (off, given_off) = march(True, CUT_IN, CUT_OUT), march(False, CUT_OUT, CUT_IN)
    means = dict(zip(("tap", "rinse"), (given_on + given_off) / (on + off), strict=True))
    return {**means, "on": on, "off": off}


def _opened(raw: dict[str, Any]) -> OpenSet:
    return simultaneous(Plan.of(raw)).sets[0]


def test_each_outlet_gives_the_mean_of_a_march_through_time() -> None:
    opened, marched = _opened(_van()), _marched()
    assert opened.pumps["pump"].cycles
    for tap, mean in ((tap, marched[tap]) for tap in HEIGHTS):
        assert opened.flow[tap].likely == pytest.approx(mean, rel=1e-3)
        assert opened.least[tap].likely == pytest.approx(_drawn(CUT_IN)[tap], rel=1e-3)
        assert opened.most[tap].likely == pytest.approx(_drawn(CUT_OUT)[tap], rel=1e-3)


@pytest.mark.parametrize("vessel", [None, "0.9 bar", "1.5 bar"])
def test_outlets_behind_pumps_of_their_own_give_what_each_gives_alone(vessel: str | None) -> None:
    raw = _van()
    raw["pumps"]["second"] = {**raw["pumps"]["pump"], "cut_in": "0.8 bar", "cut_out": "1.4 bar"}
    raw["runs"]["second suction"] = {"from": "fresh", "to": "second", "bore": "15 mm", "length": "2 cm"}
    raw["runs"]["rinse hose"] |= {"from": "second"}
    if vessel is not None:
        raw["accumulators"] = {"vessel": {"at": "tee", "volume": "1 L", "precharge": vessel}}
    opened = _opened(raw)
    for tap, pump in (("tap", "pump"), ("rinse", "second")):
        alone = opened.alone[tap]
        assert alone.cycles
        assert opened.cycles(tap)
        assert opened.flow[tap].values == pytest.approx(alone.flow.values, rel=1e-5)
        assert opened.least[tap].values == pytest.approx(alone.least.values, rel=1e-6)
        assert opened.most[tap].values == pytest.approx(alone.most.values, rel=1e-6)
        assert opened.pressure[tap].likely == pytest.approx(alone.pressure.likely, rel=1e-3)
        assert opened.pumps[pump].discharge.likely == pytest.approx(alone.discharge.likely, rel=1e-3)
        assert opened.pumps[pump].crossing.values == pytest.approx(alone.crossing.values, rel=1e-6)


def test_mean_lies_in_the_swing_and_the_steady_flow_above_it() -> None:
    cycling, steady = _opened(_van()), _opened(_van(cut_out="2.7 bar"))
    assert not steady.pumps["pump"].cycles
    for tap in ("tap", "rinse"):
        assert cycling.least[tap].likely < cycling.flow[tap].likely < cycling.most[tap].likely < steady.flow[tap].likely
        assert steady.least[tap].likely == steady.flow[tap].likely == steady.most[tap].likely
    assert cycling.pumps["pump"].crossing.likely == pytest.approx(steady.pumps["pump"].discharge.likely, rel=1e-9)


def test_the_mean_comes_to_the_steady_flow_as_the_cut_out_comes_to_the_crossing() -> None:
    steady = _opened(_van(cut_out="2.7 bar"))
    near = steady.pumps["pump"].discharge.likely - 1.0
    almost = _opened(_van(cut_out=f"{near / 1e5:.8f} bar"))
    assert almost.pumps["pump"].cycles
    assert almost.flow["tap"].likely == pytest.approx(steady.flow["tap"].likely, rel=0.05)
    assert almost.flow["tap"].likely < steady.flow["tap"].likely


def test_pieces_add_up_at_the_moment_of_the_mean() -> None:
    opened = _opened(_van())
    budget = opened.budget
    assert sum(piece.loss.likely for piece in budget.pieces) == pytest.approx(budget.rise.likely, abs=1.0)
    held = opened.pumps["pump"].discharge.likely
    assert CUT_IN < held < CUT_OUT
    assert sum(_drawn(held).values()) == pytest.approx(sum(flow.likely for flow in opened.flow.values()), rel=1e-3)


def _told(raw: dict[str, Any], key: str) -> Any:
    answer = simultaneous(Plan.of(raw))
    return next(each for each in answer.findings if each.key == key)


def test_wishes_are_judged_by_the_mean_and_by_the_low_end_behind_a_regulator() -> None:
    raw = _van()
    opened = _opened(raw)
    between = 0.5 * (opened.flow["tap"].likely + opened.most["tap"].likely) / L_MIN
    raw["outlets"]["tap"]["wanted"] = f"{between:.4f} L/min"
    told = _told(raw, "simultaneous.both.tap")
    assert told.verdict is not Verdict.FINE
    assert "in the mean, swinging from" in told.statement.text()
    assert simultaneous(Plan.of(raw)).verdict.text().count("in the mean, as the pump cycles") == 1
    held = _van()
    held["outlets"]["tap"] |= {"regulated": True, "flow": "1.7 L/min", "at": "1.5 bar", "wanted": "1.6 L/min"}
    one = _opened(held)
    assert one.least["tap"].likely < 1.6 * L_MIN
    assert _told(held, "simultaneous.both.tap").value.text() == one.least["tap"].shown.text()


def test_without_a_cut_in_the_wish_is_not_decided_and_the_flow_is_the_most() -> None:
    raw = _van(cut_in=None)
    del raw["pumps"]["pump"]["cut_in"]
    opened = _opened(raw)
    assert opened.flow["tap"].likely == pytest.approx(_drawn(CUT_OUT)["tap"], rel=1e-3)
    told = _told(raw, "simultaneous.both.tap")
    assert told.verdict is Verdict.NOT_DECIDED
    assert "at most, as the pump cycles" in told.statement.text()
    assert told.address == "pumps.pump.cut_in"


def test_the_verdict_speaks_of_the_worst_set() -> None:
    raw = _van()
    raw["outlets"]["sink"] = {"flow": "12 L/min", "at": "1 bar", "z": "1 m"}
    raw["runs"]["sink hose"] = {"from": "tee", "to": "sink", "bore": "15 mm", "length": "2 cm"}
    raw["together"] = {
        "easy": {"outlets": ["tap", "rinse"]},
        "hard": {"outlets": ["rinse", "sink"]},
        "wish": {"outlets": ["tap", "sink"]},
    }
    raw["outlets"]["tap"]["wanted"] = "0.3 L/min"
    answer = simultaneous(Plan.of(raw))
    assert worst(answer.sets).name in {"hard", "wish"}
    assert worst(answer.sets).strength == min(opened.strength for opened in answer.sets)
    raw["outlets"]["tap"]["wanted"] = "3 L/min"
    answer = simultaneous(Plan.of(raw))
    assert worst(answer.sets).name == "wish"
    assert answer.verdict.text().startswith("With tap and sink open the tap gives")


def _pump_told(raw: dict[str, Any]) -> str:
    findings = simultaneous(Plan.of(raw)).findings
    return next(one.statement.text() for one in findings if ".pump." in one.key).replace("\N{NO-BREAK SPACE}", " ")


def test_the_times_on_and_off_are_those_of_a_march_through_time() -> None:
    opened, marched = _opened(_van()), _marched()
    times = opened.pumps["pump"].times
    assert times is not None
    assert [time.likely for time in times] == pytest.approx([marched["on"], marched["off"]], rel=2e-3)


def test_seconds_on_and_off_are_told_unless_it_chatters() -> None:
    bare = _van()
    assert _opened(bare).pumps["pump"].chatters and "chatters under" in _pump_told(bare)
    fitted = {**_van(), "accumulators": {"vessel": {"at": "pump", "volume": "2 L", "precharge": "1 bar"}}}
    opened = _opened(fitted)
    assert opened.pumps["pump"].times is not None and not opened.pumps["pump"].chatters
    on, off = (time.rounded(2).text().replace("\N{NO-BREAK SPACE}", " ") for time in opened.pumps["pump"].times)
    assert f"{on} on, {off} off." in _pump_told(fitted)
    without = _van()
    del without["pumps"]["pump"]["cut_in"]
    assert _opened(without).pumps["pump"].times is None
    assert _pump_told(without).endswith("stops it.")
