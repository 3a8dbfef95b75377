import numpy as np
import pytest
from scipy.optimize import brentq

from tests.physics.networks import two_mixers
from vanwater.physics.friction import friction_loss
from vanwater.physics.network import Mixer, Network, NetworkInputs, Outlet, Run, Source, solve
from vanwater.physics.network.mixing import port_loss

WATER = {"density": 999.1, "viscosity": 1.138e-3}


def thermostatic(network):
    mixers = tuple(Mixer(m.name, m.hot, m.cold, m.mixed, thermostatic=True) for m in network.mixers)
    return Network(network.runs, network.sources, network.outlets, network.pumps, mixers, network.nodes)


def test_one_hand_mixer_by_bisection():
    """Hot and cold leg from one pressure, throttled to a third hot: a second method finds the same flow."""
    network = Network(
        (Run("hot", "tank", "h"), Run("cold", "tank", "c"), Run("hose", "m", "tap")),
        (Source("tank", "tank"),),
        (Outlet("tap", "tap"),),
        mixers=(Mixer("mixer", "h", "c", "m"),),
    )
    bore, length = np.array([0.008, 0.010, 0.008]), np.array([6.0, 2.0, 1.5])
    x, k, given = 1.0 / 3.0, 4e-7, 1.2e5
    drawn = {"source_pressure": given, "outlet_constant": k, "hot_share": x}
    flows = solve(network, NetworkInputs(elevation=0.0, length=length, bore=bore, **WATER, **drawn))

    def over(flow):
        lost = friction_loss(np.array([x, 1.0 - x, 1.0]) * flow, bore, length, 1.5e-6, **WATER)
        return given - max(lost[0], lost[1]) - lost[2] - (flow / k) ** 2

    assert float(flows.mixer("mixer")[0]) == pytest.approx(brentq(over, 1e-9, 1e-3, xtol=1e-18, rtol=1e-14), rel=1e-10)


def test_a_thermostatic_valve_opens_one_port_as_it_shuts_the_other():
    network, numbers = two_mixers(split=True)
    constant = np.array([5e-7, 7e-7])
    flows = solve(thermostatic(network), NetworkInputs(**numbers, mixer_constant=constant))
    assert flows.converged.all()
    for i, (name, tap) in enumerate((("basin", "b"), ("shower", "s"))):
        x, flow = numbers["hot_share"][i], float(flows.mixer(name)[0])
        fall = [float(flows.at(f"{tap}{side}")[0] - flows.at(f"{tap}m")[0]) for side in "hc"]
        opening = [share * flow / (constant[i] * np.sqrt(lost)) for share, lost in zip((x, 1.0 - x), fall, strict=True)]
        assert sum(opening) == pytest.approx(1.0, rel=1e-8)
    assert np.all(flows.mixers < solve(network, NetworkInputs(**numbers)).mixers)


def test_a_mixer_of_wide_ports_is_a_hand_mixer():
    network, numbers = two_mixers(split=True)
    open_wide = solve(thermostatic(network), NetworkInputs(**numbers, mixer_constant=1e-2))
    assert open_wide.outlets == pytest.approx(solve(network, NetworkInputs(**numbers)).outlets, rel=1e-6)


def test_the_ports_law_is_met_wherever_its_numbers_lie():
    """A small leading side under a far higher other one: the curve is not convex there, and Newton overshoots."""
    rng = np.random.default_rng(5)
    ratio = np.append(10.0 ** rng.uniform(-6, 4, 5000), 6.4245)
    share = np.append(10.0 ** rng.uniform(-5, 0, 5000), 8.475e-5)
    gap = np.append(10.0 ** rng.uniform(-3, 7, 5000), 9.4137)
    loss, weight, slope = port_loss(ratio, share, gap)
    held = share / np.sqrt(loss) + (1.0 - share) / np.sqrt(loss + gap)
    assert held * ratio == pytest.approx(np.ones(ratio.size), rel=1e-10)
    assert np.all((weight > 0.0) & (weight <= 1.0))
    step = 1e-6 * ratio
    rise = (port_loss(ratio + step, share, gap)[0] - port_loss(ratio - step, share, gap)[0]) / (2.0 * step)
    assert slope == pytest.approx(rise, rel=1e-4)
