import pytest
from fluids.fittings import K_to_Kv, Kv_to_K
from hypothesis import given
from hypothesis import strategies as st

from vanwater.physics.fittings import k_loss
from vanwater.physics.valves import VALVE_DENSITY, k_from_valve, outlet_flow, outlet_pressure, valve_from_k
from vanwater.quantities import OUTLET_CONSTANT

KV = st.floats(0.05, 50.0)
BORES = st.floats(0.004, 0.05)


@given(KV, BORES)
def test_kv_to_k_agrees_with_fluids(kv, bore):
    constant = OUTLET_CONSTANT.spellings["Kv"].to_si(kv)
    assert float(k_from_valve(constant, bore)) == pytest.approx(Kv_to_K(kv, bore), rel=2e-3)


@given(st.floats(0.05, 500.0), BORES)
def test_k_to_kv_agrees_with_fluids_and_comes_back(k, bore):
    constant = valve_from_k(k, bore)
    assert float(OUTLET_CONSTANT.spellings["Kv"].from_si(constant)) == pytest.approx(K_to_Kv(k, bore), rel=1e-3)
    assert float(k_from_valve(constant, bore)) == pytest.approx(k)


@given(KV, BORES, st.floats(1e3, 5e5))
def test_a_valve_passes_its_kv(kv, bore, pressure):
    """The definition itself: the flow by Kv loses in K just the pressure that drives it."""
    constant = OUTLET_CONSTANT.spellings["Kv"].to_si(kv)
    flow = outlet_flow(pressure, constant)
    assert float(k_loss(flow, bore, k_from_valve(constant, bore), VALVE_DENSITY)) == pytest.approx(pressure)


@given(st.floats(0.0, 6e5), st.floats(1e-8, 1e-5))
def test_outlet_law_there_and_back(pressure, constant):
    assert float(outlet_pressure(outlet_flow(pressure, constant), constant)) == pytest.approx(pressure, abs=1e-9)


def test_suction_at_an_outlet_draws_nothing_back():
    assert float(outlet_flow(-2e4, 3e-7)) == 0.0


def test_cv_and_kv_of_one_valve():
    kv, cv = (OUTLET_CONSTANT.spellings[name].to_si(1.0) for name in ("Kv", "Cv"))
    assert cv / kv == pytest.approx(0.865, abs=5e-4)


@pytest.mark.parametrize(
    "call", [lambda: k_from_valve(0.0, 0.01), lambda: valve_from_k(0.0, 0.01), lambda: outlet_pressure(1e-4, 0.0)]
)
def test_the_impossible_is_refused(call):
    with pytest.raises(ValueError, match="must lie above zero"):
        call()
