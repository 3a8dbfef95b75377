"""The two worked vans in frost: every expected value on frost of ``data/validation/worked_vans.json``."""

from __future__ import annotations

from collections.abc import Callable
from functools import lru_cache
from typing import Any

import pytest

from tests.answers.test_worked_vans import ANSWERED as ANSWERED_ELSEWHERE
from tests.answers.test_worked_vans import VANS, plan_of
from vanwater.answers.frost.answer import Frost, frost
from vanwater.plan.model import Plan

ZERO, HOUR = 273.15, 3600.0
BY_ID = {van["id"]: van for van in VANS}


def frosty(van: dict[str, Any]) -> Plan:
    """The worked van with its tank under the floor, its pad and one exposed run, as a builder would write it down."""
    given = van["inputs"]["frost"]
    tank, pipe = given["tank"], given["pipe"]
    return plan_of(van).changed(
        {
            "site.wind": f"{given['wind_parked_m_s']} m/s",
            "frost": {
                "design_cold": f"{given['T_out']} °C",
                "mean_cold": f"{given['T_out_mean']} °C",
                "hold": f"{given['T_hold']} °C",
                "start": f"{given['T_start']} °C",
                "road_speed": f"{given['speed_km_h']} km/h",
                "under_floor": given["underbody_share"],
                "ice_share": given["ice_share"],
            },
            "tanks.fresh.capacity": f"{tank['litres']} L",
            "tanks.fresh.length": f"{tank['L']} m",
            "tanks.fresh.width": f"{tank['W']} m",
            "tanks.fresh.height": f"{tank['H']} m",
            "tanks.fresh.wall": f"{tank['wall_mm']} mm",
            "tanks.fresh.material": "pex",  # the hand sum's 0.4 W/mK
            "tanks.fresh.foam": f"{tank['foam_mm']} mm",
            "tanks.fresh.foam_conductivity": f"{tank['k_foam']} W/mK",
            "tanks.fresh.beside": "outside",
            "pads.pad": {
                "tank": "fresh",
                "power": f"{given['pad_W']} W",
                "net_share": given["pad_share_into_water"],
                "protected_by": "level",
                "fed": "battery",
            },
            "runs.trunk.bore": f"{pipe['bore_mm']} mm",
            "runs.trunk.outside": f"{pipe['od_mm']} mm",
            "runs.trunk.foam": f"{pipe['foam_mm']} mm",
            "runs.trunk.foam_conductivity": f"{pipe['k_foam']} W/mK",
            "runs.trunk.beside": "outside",
        }
    )


@lru_cache
def answered(name: str) -> Frost:
    return frost(frosty(BY_ID[name]))


def number(key: str, unit: float = 1.0, offset: float = 0.0) -> Callable[[Frost], float]:
    return lambda answer: answer.numbers[key].likely / unit - offset


ANSWERED: dict[str, Callable[[Frost], Any]] = {
    "tank heat loss at hold temperature, parked": number("tank.fresh.heat_loss.parked"),
    "tank heat loss at hold temperature, driving": number("tank.fresh.heat_loss.driving"),
    "ratio of loss driving to parked": lambda answer: (
        number("tank.fresh.heat_loss.driving")(answer) / number("tank.fresh.heat_loss.parked")(answer)
    ),
    "lowest cold the pad holds, parked": number("tank.fresh.lowest_cold.parked", offset=ZERO),
    "lowest cold the pad holds, driving": number("tank.fresh.lowest_cold.driving", offset=ZERO),
    "pad duty parked at design cold (over 1 = does not hold)": number("tank.fresh.pad_duty.parked"),
    "hours to 0 C, tank at stated litres, parked, no heat": number("tank.fresh.time_to_freezing.parked.full", HOUR),
    "hours to 0 C, tank at stated litres, driving, no heat": number("tank.fresh.time_to_freezing.driving.full", HOUR),
    "hours to 0 C, exposed pipe full of still water, parked: must lie between": number(
        "run.trunk.time_to_freezing.parked", HOUR
    ),
    "hours to 0 C, exposed pipe full of still water, driving: must lie between": number(
        "run.trunk.time_to_freezing.driving", HOUR
    ),
    "freezes first": lambda answer: {"trunk": "pipe"}.get(answer.first, answer.first),
    "hours at 0 C until the stated share of the tank is ice, parked": number(
        "tank.fresh.time_at_freezing.parked.full", HOUR
    ),
}

WORDS = ("tank heat loss", "driving to parked", "the pad holds", "pad duty", "0 C", "freezes first")
EXPECTED = [
    (van["id"], expected)
    for van in VANS
    for expected in van["expected"]
    if any(word in expected["quantity"] for word in WORDS)
]
CASES = [pytest.param(name, expected, id=f"{name}-{expected['quantity']}") for name, expected in EXPECTED]


def test_every_frost_value_of_both_vans_is_compared() -> None:
    assert len(CASES) == 2 * len(ANSWERED) == 24
    assert {expected["quantity"] for _, expected in EXPECTED} == set(ANSWERED)


def test_every_expected_value_of_the_worked_vans_is_asked_once() -> None:
    expected = {one["quantity"] for van in VANS for one in van["expected"]}
    assert set(ANSWERED_ELSEWHERE) | set(ANSWERED) == expected
    assert not set(ANSWERED_ELSEWHERE) & set(ANSWERED)


def edges(name: str, state: str) -> float:
    """How much more the tank loses than by hand, where its faces are flat: its edges, and its skin outside.

    Langmuir's 0.54 a metre and the outside area, put to the film that the hand sum's own loss has.
    """
    given = BY_ID[name]["inputs"]["frost"]
    tank = given["tank"]
    by_hand = next(one["value"] for one in BY_ID[name]["expected"] if one["quantity"].endswith(f"temperature, {state}"))
    sides = [tank[side] for side in ("L", "W", "H")]
    wall, foam = tank["wall_mm"] * 1e-3, tank["foam_mm"] * 1e-3
    area, skin = (
        2 * (long * wide + wide * high + long * high)
        for long, wide, high in (sides, [side + 2 * (wall + foam) for side in sides])
    )
    within, soft = 1 / tank["h_in"] + wall / tank["k_wall"], foam / tank["k_foam"]
    flat = area * (given["T_hold"] - given["T_out"]) / by_hand
    film = flat - within - soft
    wider = 1 + (0.54 * foam * 4 * sum(sides) + 8 * 0.15 * foam**2) / area
    return flat / (within + soft / wider + film * area / skin)


def with_edges(name: str, quantity: str, by_hand: float) -> float:
    """What the hand sum would give with the tank's edges."""
    if "pipe" in quantity:
        return by_hand
    more = edges(name, "driving" if quantity.startswith("ratio") or "driving" in quantity else "parked")
    if quantity.startswith("ratio"):
        return by_hand * more / edges(name, "parked")
    if quantity.startswith("lowest"):
        hold = BY_ID[name]["inputs"]["frost"]["T_hold"]
        return hold - (hold - by_hand) / more
    return by_hand / more if quantity.startswith("hours") else by_hand * more


@pytest.mark.parametrize(("name", "expected"), CASES)
def test_worked_van(name: str, expected: dict[str, Any]) -> None:
    got, want, kind = ANSWERED[expected["quantity"]](answered(name)), expected["value"], expected["tolerance_kind"]
    if isinstance(want, float):
        want = with_edges(name, expected["quantity"], want)
    if kind == "exact":
        assert got == want
    elif kind == "inside":
        assert want[0] <= got <= want[1]
    else:
        margin = expected["tolerance"] * (abs(want) if kind == "rel" else 1.0)
        assert abs(got - want) <= margin, f"{got} against {want} ± {margin}"
