from __future__ import annotations

import numpy as np
import pytest

from tests.examples import example
from vanwater.plan.model import Plan
from vanwater.plan.tables import outlets, pipes
from vanwater.system.batch import Batch, Row, Unsure, low_and_high
from vanwater.system.supply import CRANE_TURBULENT, SMOOTH_PLASTIC, outlet_numbers, run_bore, run_numbers, small_loss

FAMILY = example("family-winter")
BORE = np.array([0.010])


def with_run(**fields: object) -> Plan:
    return Plan.of(
        {
            "van": {"name": "t"},
            "household": {"people": 1},
            "tanks": {"fresh": {"holds": "fresh", "capacity": "50 L"}},
            "outlets": {"tap": {"flow": "5 L/min", "at": "1 bar"}},
            "fittings": {"mesh": {"loss": "0.3 bar", "loss_at": "6 L/min"}, "odd": {"k": 3.5}},
            "runs": {"run": {"from": "fresh", "to": "tap", **fields}},
        }
    )


def test_stock_size_and_own_bore() -> None:
    assert run_bore(Batch(FAMILY), "handset hose")[0] == pipes()["pvc hose 8 mm"].bore
    assert run_numbers(Batch(with_run(bore="9 mm", length="2 m")), "run").bore[0] == pytest.approx(0.009)
    assert run_numbers(Batch(with_run(bore="9 mm", length="2 m")), "run").roughness[0] == SMOOTH_PLASTIC
    assert np.isnan(run_bore(Batch(with_run()), "run")[0])


def test_a_row_may_take_another_size() -> None:
    batch = Batch(FAMILY, [Row("wide", {"runs.handset hose.size": "pvc hose 10 mm"})])
    assert run_bore(batch, "handset hose").tolist() == [0.008, 0.010]


def test_handbook_ratio_is_a_constant_k() -> None:
    k, length = small_loss(FAMILY, "sweep bend", BORE)
    assert k[0] == pytest.approx(14 * CRANE_TURBULENT)
    assert length[0] == 0


def test_k_on_an_insert_is_referred_to_the_run() -> None:
    k, _ = small_loss(FAMILY, "barb elbow", BORE)
    assert k[0] == pytest.approx(2.0 / 0.75**4)


def test_crimp_inserts_count_as_length() -> None:
    k, length = small_loss(FAMILY, "metal crimp elbow 1/2 in", BORE)
    assert k[0] == 0
    assert length[0] == pytest.approx(9.4 * 0.3048)


def test_measured_loss_returns_at_its_own_flow() -> None:
    flow = 6e-3 / 60
    k, _ = small_loss(with_run(), "mesh", BORE)
    speed = flow / (np.pi / 4 * BORE[0] ** 2)
    assert k[0] * 998.2 * speed**2 / 2 == pytest.approx(0.3e5)
    assert small_loss(with_run(), "odd", BORE)[0][0] == 3.5


def test_clogging_goes_from_new_to_the_tables_factor() -> None:
    new, half, full = (small_loss(FAMILY, "strainer", BORE, share)[0][0] for share in (0, 0.5, 1))
    assert full == pytest.approx(4 * new)
    assert new < half < full
    elbow = [small_loss(FAMILY, "push-fit elbow", BORE, share)[0][0] for share in (0, 1)]
    assert elbow[0] == elbow[1]


def test_fittings_add_up_and_scale_with_their_factor_only() -> None:
    plan = with_run(bore="10 mm", length="1 m", k=2, fittings={"odd": 2, "metal crimp elbow 1/2 in": 1})
    unsure = Unsure("fittings", "", 0.7, 1.3, "", "")
    numbers = run_numbers(Batch(plan, low_and_high([unsure])), "run")
    assert numbers.k.tolist() == pytest.approx([9, 6.3, 11.7])
    elbow = 9.4 * 0.3048
    assert numbers.length.tolist() == pytest.approx([1 + elbow, 1 + 0.7 * elbow, 1 + 1.3 * elbow])


def test_bores_factor_moves_the_bore_but_not_the_fittings_k() -> None:
    unsure = Unsure("bores", "", 0.97, 1.03, "", "")
    numbers = run_numbers(Batch(FAMILY, low_and_high([unsure])), "suction")
    assert numbers.bore.tolist() == pytest.approx([0.0125, 0.97 * 0.0125, 1.03 * 0.0125])
    assert np.ptp(numbers.k) < 1e-12


def test_outlet_from_table_and_measured() -> None:
    found = outlet_numbers(Batch(FAMILY), "galley tap")
    assert found["flow"][0] == outlets()["galley tap"].flow
    assert found["regulated"][0] == 0
    measured = outlet_numbers(Batch(FAMILY, low_and_high([Unsure("outlets", "", 0.75, 1.25, "", "")])), "shower")
    assert (measured["flow"] * 6e4).tolist() == pytest.approx([6.2, 4.65, 7.75])
    assert measured["at"].tolist() == [1e5] * 3


def test_legal_limits_are_no_outlets() -> None:
    assert "us shower limit" not in outlets()
