from __future__ import annotations

import numpy as np
import pytest

from tests.evening import EVENING, FAMILY, evening
from vanwater.answers.simultaneous.wait import set_run_off, set_waits
from vanwater.plan.tables import pipes


def held(run: str) -> float:
    planned = FAMILY.runs[run]
    return float(np.pi / 4 * pipes()[str(planned.size)].bore ** 2 * (planned.length or 0.0))


def test_the_wait_is_the_pipes_content_over_the_flow_in_each_run() -> None:
    waits = set_waits(EVENING.rows)
    assert set(waits) == {"shower", "galley tap"}
    one, flows = waits["shower"], EVENING.rows.solved.flows
    assert one.pipe == ("hot trunk", "hot shower line")
    once = sum(held(run) / EVENING.rows.now(flows.run(run)) for run in ("hot trunk", "hot shower line"))
    assert one.wait.likely == pytest.approx(FAMILY.household.run_off * once, rel=1e-9)
    content = held("hot trunk") + held("hot shower line")
    assert one.run_off.likely == pytest.approx(FAMILY.household.run_off * content, rel=1e-9)
    low, high = one.wait.range  # type: ignore[misc]
    assert low < one.wait.likely < high


def test_what_outlets_share_runs_off_once() -> None:
    whole = set_run_off(EVENING.rows)
    runs = ("hot trunk", "hot shower line", "hot galley line")
    assert whole is not None
    assert whole.likely == pytest.approx(FAMILY.household.run_off * sum(map(held, runs)), rel=1e-9)


def test_less_flow_waits_longer() -> None:
    weak = evening({"pumps.pump.volts": "10.5 V"})
    assert weak.wait["shower"].wait.likely > EVENING.wait["shower"].wait.likely


def test_cold_outlets_do_not_wait() -> None:
    cold = evening({"together.evening.outlets": ["shower", "basin tap"]})
    assert set(set_waits(cold.rows)) == {"shower"}


def test_half_and_half_more_of_what_runs_off_beyond_the_content_is_unsure() -> None:
    whole = set_run_off(EVENING.rows)
    assert whole is not None
    alone = whole.keyed(*whole.key, pairs=whole.pairs[-1:]).range
    factor = FAMILY.household.run_off
    content = whole.likely / factor
    assert alone == pytest.approx((content * (0.5 + 0.5 * factor), content * (1.5 * factor - 0.5)), rel=1e-9)
