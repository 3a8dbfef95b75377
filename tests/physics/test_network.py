import json
from pathlib import Path

import numpy as np
import pytest

from tests.physics.networks import (
    OUTLETS,
    PUBLISHED,
    small_van,
    small_van_numbers,
)
from vanwater.physics.friction_law import FrictionTerms
from vanwater.physics.network import (
    NetworkInputs,
    solve,
)

VANS = json.loads((Path(__file__).parents[2] / "data" / "validation" / "worked_vans.json").read_text(encoding="utf-8"))
CASES = [pytest.param(case, id=f"{case['T_C']}C-{'-'.join(case['open'])}") for case in PUBLISHED["cases"]]
EPANET_LOSSES = 32.174048556430444 / 32.2  # standard gravity in ft/s² against the rounded one of EPANET


def published_case(case, **solving):
    opened = np.array([[float(name in case["open"]) for name in OUTLETS]])
    numbers = small_van_numbers(case["T_C"])
    scale = solving.pop("losses", 1.0)
    numbers["loss_coefficient"] = numbers["loss_coefficient"] * scale
    flows = solve(small_van(), NetworkInputs(**numbers, openness=opened), **solving)
    assert flows.converged.all()
    return {name: float(flows.outlet(name)[0]) for name in OUTLETS}, {
        node: float(flows.at(node)[0]) for node in PUBLISHED["nodes_elevation_m"]
    }


def turbulent(case):
    return min(case["Re"].values()) > 4000.0


@pytest.mark.parametrize("case", CASES)
def test_epanet_agrees_within_its_law(case):
    flow, pressure = published_case(case)
    other = case["epanet22"]
    for name in OUTLETS:
        throttled = flow[name] == PUBLISHED["outlets"][name].get("qset")
        wanted = 5e-4 if throttled else 1e-3 if turbulent(case) else 1.5e-2
        assert flow[name] == pytest.approx(other["q_outlet"][name], rel=wanted, abs=0.0)
    if turbulent(case):
        for node, level in other["p_node"].items():
            assert pressure[node] == pytest.approx(level, abs=max(100.0, 5e-3 * abs(level)))


@pytest.mark.parametrize("case", [case for case in CASES if turbulent(case.values[0])])
def test_pandapipes_agrees_above_its_missing_laminar_branch(case):
    flow, _ = published_case(case)
    for name in OUTLETS:
        assert flow[name] == pytest.approx(case["pandapipes_colebrook"]["q_outlet"][name], rel=1e-3, abs=0.0)


@pytest.mark.parametrize("case", [case for case in CASES if turbulent(case.values[0])])
def test_a_root_finder_with_exact_colebrook_gives_the_same(case):
    flow, pressure = published_case(case)
    other = case["fluids_clamond_lam2040"]
    for name in OUTLETS:
        assert flow[name] == pytest.approx(other["q_outlet"][name], rel=1e-9, abs=0.0)
    for node, level in other["p_node"].items():
        assert pressure[node] == pytest.approx(level, rel=1e-9, abs=1e-5)


def epanet_law(re, wall):
    """EPANET 2.2: 64/Re to 2000, Dunlop's cubic to 4000, Swamee and Jain above; losses with its own gravity."""

    def factor(at):
        high = np.maximum(at, 4000.0)
        swamee_jain = 0.25 / np.log10(wall / 3.7 + 5.74 / high**0.9) ** 2
        y2 = wall / 3.7 + 5.74 / 4000.0**0.9
        y3 = -0.86859 * np.log(y2)
        y3 = np.where(True, -2.0 / np.log(10.0) * np.log(y2), y3)
        fa = y3**-2.0
        fb = fa * (2.0 - 1.8 / np.log(10.0) * 2.0 * 5.74 / 4000.0**0.9 / 2.0 * 2.0 / (y2 * y3) / 2.0)
        return swamee_jain, fa, fb

    swamee_jain, fa, fb = factor(re)
    r = re / 2000.0
    x1, x2, x3, x4 = 7 * fa - fb, 0.128 - 17 * fa + 2.5 * fb, -0.128 + 13 * fa - 2 * fb, 0.032 - 3 * fa + 0.5 * fb
    dunlop = x1 + r * (x2 + r * (x3 + r * x4))
    f = np.where(re < 2000.0, 64.0 / np.maximum(re, 1e-9), np.where(re < 4000.0, dunlop, swamee_jain))
    drag = np.where(re < 2000.0, 64.0, f * re)
    slope = np.where(re < 2000.0, 64.0, 1.8 * drag)  # near enough: it only steers Newton
    return FrictionTerms(EPANET_LOSSES * drag, EPANET_LOSSES * slope)
