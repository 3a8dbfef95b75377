from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from scipy.optimize import brentq

from tests.evening import EVENING, FAMILY, evening
from vanwater.answers.simultaneous.answer import simultaneous
from vanwater.physics import network as physics
from vanwater.system.batch import Batch
from vanwater.system.network import Case, Solved, solve_cases
from vanwater.system.path_conditions import mixed_temperature
from vanwater.system.taps import left_tap, tap_cases
from vanwater.system.water_temperature import water_temperature
from vanwater.system.ways import way_to

SHOWER = way_to(FAMILY, "shower")
BATCH = Batch(FAMILY)
COLD = float(water_temperature(BATCH, "fresh")[0])


class Tee:
    """Second method: the family van with a plain tee for the shower's mixing tap, its hot side throttled by a K."""

    def __init__(self, solved: Solved) -> None:
        old = solved.network
        inlets = {"shower mixer hot": "shower mixer", "shower mixer cold": "shower mixer"}
        self.runs = tuple(replace(run, end=inlets.get(run.end, run.end)) for run in old.runs)
        self.network = physics.Network(
            self.runs,
            old.sources,
            old.outlets,
            old.pumps,
            tuple(one for one in old.mixers if one.name != "shower mixer"),
        )
        row = {key: value[:1] for key, value in solved.numbers.items()}
        heights = dict(zip(old.nodes, row["elevation"][0], strict=True))
        kept = [place for place, mixer in enumerate(old.mixers) if mixer.name != "shower mixer"]
        self.numbers = row | {
            "elevation": np.array([[heights[node] for node in self.network.nodes]]),
            "hot_share": row["hot_share"][:, kept],
            "mixer_constant": row["mixer_constant"][:, kept],
        }
        self.numbers.pop("openness", None)

    def hot_share(self, k: float, opened: tuple[str, ...]) -> float:
        names = [run.name for run in self.runs]
        loss = self.numbers["loss_coefficient"].copy()
        loss[0, names.index("hot shower line" if k > 0 else "cold shower line")] += abs(k)
        openness = np.array([[float(outlet.name in opened) for outlet in self.network.outlets]])
        numbers = self.numbers | {"loss_coefficient": loss, "openness": openness}
        flows = physics.solve(self.network, physics.NetworkInputs(**numbers))
        assert flows.converged.all()
        hot, cold = (float(flows.run(f"{side} shower line")[0]) for side in ("hot", "cold"))
        return hot / (hot + cold)


def test_a_tap_left_as_it_was_is_a_fixed_throttle_in_a_loop_of_runs() -> None:
    tap, tee = EVENING.rows.taps["shower"], Tee(EVENING.rows.solved)
    k = brentq(lambda k: tee.hot_share(k, ("shower",)) - tap.share, -5e3, 5e3, xtol=1e-6)
    share = tee.hot_share(float(k), ("shower", "galley tap"))
    cold, hot = COLD, FAMILY.heaters["heater"].set_point
    assert tap.comes == pytest.approx(cold + share * (hot - cold), abs=0.1)
    assert tap.side == ("hot" if k > 0 else "cold")


def test_a_trickle_beside_it_leaves_the_temperature() -> None:
    small = {"outlets.galley tap.type": None, "outlets.galley tap.flow": "0.2 L/min", "outlets.galley tap.at": "1 bar"}
    tap = evening(small).rows.taps["shower"]
    assert tap.comes == pytest.approx(tap.wanted, abs=0.5)
    assert not tap.beyond


def test_the_cases_are_the_outlet_alone_then_the_set_at_several_shares() -> None:
    cases = tap_cases(BATCH, SHOWER, ("shower", "galley tap"))
    assert cases[0].opened == ("shower",)
    assert all(case.opened == ("shower", "galley tap") for case in cases[1:])
    shares = [case.taps[0][1] for case in cases[1:]]
    assert shares == sorted(set(shares))
    wanted = float(mixed_temperature(BATCH, SHOWER)[0])
    cold, hot = COLD, FAMILY.heaters["heater"].set_point
    assert min(abs(share - (wanted - cold) / (hot - cold)) for share in shares) < 1e-12


def test_cold_outlets_and_a_heater_that_is_no_warmer_have_none() -> None:
    assert tap_cases(BATCH, way_to(FAMILY, "basin tap"), ("basin tap", "shower")) == []
    warm = FAMILY.changed({"outlets.shower.temperature": "60 °C"})
    assert tap_cases(Batch(warm), way_to(warm, "shower"), ("shower", "galley tap")) == []
    assert "shower" not in simultaneous(warm).sets[0].temperature


def test_it_is_found_again_from_the_solved_cases() -> None:
    first = len(EVENING.rows.rows)
    assert left_tap(EVENING.rows.batch, SHOWER, EVENING.rows.solved, first) == EVENING.rows.taps["shower"]


def test_what_the_throttle_takes_is_the_pressure_between_the_two_sides() -> None:
    tap = EVENING.rows.taps["shower"]
    at_wanted = Case(("shower", "galley tap"), 0, (("shower mixer", tap.share),))
    flows = solve_cases(BATCH, [at_wanted, Case(("shower",))]).flows
    together, alone = flows.at("shower mixer hot") - flows.at("shower mixer cold")
    assert tap.alone == pytest.approx(abs(alone), abs=0.01)
    assert tap.together == pytest.approx(together if tap.side == "hot" else -together, abs=0.01)


def greedy(outlet: str) -> dict[str, object]:
    """The set with the shower and another outlet that takes far more than the pump gives."""
    wide = {"type": None, "flow": "30 L/min", "at": "0.3 bar"}
    return {f"outlets.{outlet}.{name}": value for name, value in wide.items()} | {
        "together.evening.outlets": ["shower", outlet]
    }


def test_colder_or_hotter_than_was_solved_is_told_as_beyond_it() -> None:
    robbed = evening(greedy("galley tap")).rows.taps["shower"]  # of hot water
    assert robbed.beyond and robbed.comes == pytest.approx(robbed.wanted - 12.0)
    scalding = evening(greedy("basin tap")).rows.taps["shower"]  # of cold water
    assert scalding.beyond and scalding.comes == pytest.approx(scalding.wanted + 12.0)
    for tap in (robbed, scalding):
        cold, hot = COLD, FAMILY.heaters["heater"].set_point
        assert tap.shifted == pytest.approx((tap.comes - cold) / (hot - cold))


def test_water_that_is_all_cold_or_all_hot_is_as_far_as_it_gets() -> None:
    chilled = evening(greedy("galley tap") | {"tanks.fresh.temperature": "28 °C"}).rows.taps["shower"]
    assert (chilled.shifted, chilled.beyond) == (0.0, False)
    assert chilled.comes == pytest.approx(273.15 + 28.0)
    narrow = {"runs.cold trunk.size": None, "runs.cold trunk.bore": "8 mm", "heaters.heater.set_point": "45 °C"}
    heated = evening(greedy("basin tap") | narrow).rows.taps["shower"]
    assert (heated.shifted, heated.beyond) == (1.0, False)
    assert heated.comes == pytest.approx(273.15 + 45.0)
