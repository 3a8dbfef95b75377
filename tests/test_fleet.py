"""Alarms on a fleet: sound vans raise none that an own sum does not confirm, a planted danger is told first.

A seeded part by default; 300 sound vans and 300 with a danger with ``VANWATER_FLEET=all`` in the environment.
"""

from __future__ import annotations

import math
import os
import re
from collections import Counter
from collections.abc import Callable, Iterator
from typing import Any, TypeAlias

import numpy as np
import pytest

from tests.fleet import Van, air, sound_van, worked_flow
from tests.terminal.made import piped
from vanwater.answers.core.answer import gravest_first
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.harm import HARM, Harm
from vanwater.answers.questions import Answers, answers_to
from vanwater.terminal.overview import overview

ALL = os.environ.get("VANWATER_FLEET") == "all"
SOUND = 300 if ALL else 40
PLANTED = 300 if ALL else 18

Facts: TypeAlias = dict[str, Any]

NEAR = 1.2
"""How far the sums of the fleet may lie off those of the answers: they leave out what takes little."""


def _kind(key: str) -> str:
    """A finding's key with a star for each name of the plan."""
    names = sorted((kind for kind in HARM), key=lambda kind: -len(kind))
    fits = (kind for kind in names if re.fullmatch(re.escape(kind).replace(r"\*", ".+"), key))
    return next(fits, key)


def _short_stay(facts: Facts, finding: Finding) -> bool:
    return bool(facts["days"] < NEAR * facts["days_wanted"])


def _thin_flow(facts: Facts, finding: Finding) -> bool:
    outlet = finding.key.split(".")[1]
    return worked_flow(facts, outlet) < NEAR * float(facts["wanted"][outlet])


def _short_nights(facts: Facts, finding: Finding) -> bool:
    """Whether the battery does not outlast the one night that is planned, by what is taken from it."""
    return bool(facts["charge"] < NEAR * (facts["other"] + facts["heat"] + facts["pads"]))


RULES: dict[str, Callable[[Facts, Finding], bool]] = {
    "stay.days": _short_stay,
    "outlets.*.flow": _thin_flow,
    "frost.nights": _short_nights,
}
"""What may fail in a sound van, and the own sum that has to agree. Whatever else fails is a false alarm."""

DENSITY = {5: 999.97, 10: 999.70, 15: 999.10, 20: 998.21, 55: 985.69, 60: 983.20, 65: 980.55, 70: 977.76}
"""Density of water by the handbook, kg/m³ at °C."""


def _drips(facts: Facts, finding: Finding) -> bool:
    """Whether the heater's growing water opens its relief valve: Boyle's law in the accumulator that it comes to."""
    cold, hot = (float(np.interp(facts[at], list(DENSITY), list(DENSITY.values()))) for at in ("cold", "set"))
    grown = facts["heater_volume"] * (cold / hot - 1)
    if not facts["room"]:
        return grown > 0.03  # hoses take up some 5 mL a bar
    gas = facts["precharge"] + air(facts["altitude"])
    left = facts["room"] * gas / (facts["cut_out"] + air(facts["altitude"])) - grown
    return bool(left <= 0 or facts["room"] * gas / left - air(facts["altitude"]) > facts["relief"] / NEAR)


def _cools_below(facts: Facts, finding: Finding) -> bool:
    """Whether the air of a van of common body is in frost well within a night: down by a fifth, then with 2.2 h."""
    cold = facts["design_cold"]
    return bool(facts["frost"] and 2.2 * math.log(0.8 * (16 - cold) / -cold) < 12 / NEAR)


TRUE_OFTEN: dict[str, Callable[[Facts, Finding], bool]] = {
    # hoses give some 5 mL a bar, so that a thin stream empties them within a second or two
    "pump_starts.*.chatter": lambda facts, _finding: not facts["vessel"],
    "pump_starts.*.expansion": _drips,
    "frost.heating_off": _cools_below,
}
"""What may be watched in more than a third of sound vans: little harm, and true of each of them."""


@pytest.fixture(scope="module")
def fleet() -> list[tuple[Van, Answers]]:
    vans = [sound_van(seed) for seed in range(SOUND)]
    return [(van, answers_to(van.plan())) for van in vans]


def test_what_fails_in_a_sound_van_is_confirmed_by_an_own_sum(fleet: list[tuple[Van, Answers]]) -> None:
    failing: Counter[str] = Counter()
    false = []
    for van, answers in fleet:
        assert answers.missing == ()
        for finding in answers.findings:
            if finding.verdict is not Verdict.FAILS:
                continue
            kind = _kind(finding.key)
            failing[kind] += 1
            if kind not in RULES or not RULES[kind](van.facts, finding):
                false.append((van.raw["van"]["name"], finding.key, finding.statement.text()))
    print(f"\n{len(fleet)} sound vans, failing findings: {dict(failing)}")  # noqa: T201
    assert false == []
    assert set(failing) == set(RULES)


def test_a_wish_far_beyond_what_the_own_sum_gives_is_not_fine(fleet: list[tuple[Van, Answers]]) -> None:
    held = 0
    for van, answers in fleet:
        told = {finding.key: finding.verdict for finding in answers.findings}
        beyond = {"stay.days"} if van.facts["days"] * NEAR < van.facts["days_wanted"] else set()
        beyond |= {
            f"outlets.{outlet}.flow"
            for outlet, wanted in van.facts["wanted"].items()
            if worked_flow(van.facts, outlet) * NEAR < wanted
        }
        held += len(beyond)
        assert {key: told[key] for key in beyond if told[key] is Verdict.FINE} == {}
    assert held > SOUND // 4


def test_no_danger_is_cried_over_a_third_of_sound_vans(fleet: list[tuple[Van, Answers]]) -> None:
    watched: Counter[str] = Counter()
    for van, answers in fleet:
        kinds = {_kind(finding.key): finding for finding in answers.findings if finding.verdict is Verdict.WATCH}
        watched.update(kinds.keys())
        for kind, finding in kinds.items():
            assert kind not in TRUE_OFTEN or TRUE_OFTEN[kind](van.facts, finding), (van.raw["van"], finding.key)
    print(f"\n{len(fleet)} sound vans, watched in so many: {dict(watched.most_common())}")  # noqa: T201
    often = {kind for kind, count in watched.items() if 3 * count > len(fleet)}
    assert often <= set(TRUE_OFTEN)
    assert all(HARM[kind] > Harm.DAMAGE for kind in TRUE_OFTEN)


def test_the_fleet_is_of_every_kind(fleet: list[tuple[Van, Answers]]) -> None:
    facts = [van.facts for van, _ in fleet]
    assert {each["us"] for each in facts} == {each["vessel"] for each in facts} == {True, False}
    assert {each["mains"] for each in facts} == {each["frost"] for each in facts} == {True, False}
    assert {each["source"] for each in facts} == {"inverter", "gas", "engine", "diesel", "none"}
    assert {each["people"] for each in facts} == {1, 2, 3, 4, 5}
    assert max(each["highest"] for each in facts) > 2500 > 500 > min(each["altitude"] for each in facts)


# --- Planted dangers ---


def _heated(facts: Facts) -> bool:
    return bool(facts["source"] != "none")


def _electric(facts: Facts) -> bool:
    return bool(facts["source"] == "inverter")


def _padded(facts: Facts) -> bool:
    return bool(facts["frost"] and facts["under_floor"])


def _bar(value: float) -> str:
    return f"{value:.3f} bar"


DIRECT = {
    "mixers.galley tap mixer": None,
    "runs.cold galley tap line": None,
    "runs.galley tap hose": None,
    "runs.hot galley tap line": {"from": "hot tee", "to": "galley tap", "size": "pex 16 mm", "length": "2 m"},
}
INLET = {
    "mains.city inlet": {"lowest": "2 bar", "highest": "5 bar", "regulator": "2 bar", "z": "0.4 m"},
    "runs.inlet hose": {"from": "city inlet", "to": "tee", "size": "pvc hose 12.5 mm", "length": "1 m"},
}

Plant: TypeAlias = tuple[str, Callable[[Facts], bool], Callable[[Facts], dict[str, Any]]]

DANGERS: dict[str, Plant] = {
    "80 °C and no mixer": (
        "hot_water.heater.scald",
        _heated,
        lambda _facts: {**DIRECT, "heaters.heater.set_point": "80 °C"},
    ),
    "no relief valve behind a check valve": (
        "hot_water.heater.relief",
        lambda facts: facts.get("feed_check", False),
        lambda _facts: {"heaters.heater.relief": None},
    ),
    "relief below cut-out": (
        "hot_water.heater.relief",
        _heated,
        lambda facts: {"heaters.heater.relief": _bar(0.9 * facts["cut_out"])},
    ),
    "cut-out alone on a pad of an empty tank": (
        "frost.grey pad.protected",
        _padded,
        lambda _facts: {"pads.grey pad.protected_by": "temperature"},
    ),
    "nothing keeps a pad off": (
        "frost.fresh pad.protected",
        _padded,
        lambda _facts: {"pads.fresh pad.protected_by": "none"},
    ),
    "lithium charged below freezing": (
        "power.battery.charging",
        lambda facts: facts["frost"],
        lambda _facts: {"frost.room": "-3 °C"},
    ),
    "12 V pump at 24 V": (
        "outlets.pump.volts",
        lambda facts: facts["nominal"] == 12,
        lambda _facts: {"pumps.pump.volts": "25 V"},
    ),
    "waste hose under pressure": (
        "ratings.spiral hose 19 mm.drain",
        lambda _facts: True,
        lambda _facts: {"runs.trunk.size": "spiral hose 19 mm"},
    ),
    "pipe too weak for hot water": (
        "ratings.polyethylene tube 12 mm.",
        _heated,
        lambda _facts: {"runs.hot trunk.size": "polyethylene tube 12 mm"},
    ),
    "overloaded axle": (
        "weight.rear",
        lambda _facts: True,
        lambda facts: {
            "vehicle.permitted_rear": f"{0.97 * facts['rear']:.1f} kg",
            "vehicle.permitted_total": f"{0.97 * facts['rear'] + 1.05 * facts['front']:.1f} kg",
        },
    ),
    "overloaded van": (
        "weight.total",
        lambda _facts: True,
        lambda facts: {"vehicle.permitted_total": f"{0.98 * facts['total']:.1f} kg"},
    ),
    "current beyond the battery's": (
        "hot_water.heater.current",
        _electric,
        lambda facts: {"battery.max_current": f"{0.8 * facts['current']:.1f} A"},
    ),
    "element that can run dry": (
        "hot_water.heater.empty",
        _electric,
        lambda _facts: {"heaters.heater.empty_cut_out": False},
    ),
    "washing into the urine container": (
        "stay.dishes.urine",
        lambda facts: "urine" in facts,
        lambda _facts: {"uses.dishes.to": "urine container"},
    ),
    "boiling at the highest place": (
        "hot_water.heater.boils",
        lambda facts: _heated(facts) and facts["thermostats"] and facts["altitude"] < 1200,
        lambda _facts: {"heaters.heater.set_point": "95 °C", "site.highest": "2900 m"},
    ),
    "tube that is not made for drinking water": (
        "ratings.material.polyamide",
        lambda _facts: True,
        lambda _facts: {"runs.trunk.size": "polyamide tube 12 mm"},
    ),
    "mains without a check valve": ("mains.city inlet.back-flow", lambda _facts: True, lambda _facts: INLET),
    "pump that never stops": (
        "pump_starts.pump.stops",
        lambda facts: not _heated(facts),
        lambda facts: {"pumps.pump.cut_out": _bar(1.1 * facts["curve"][0][1])},
    ),
}
"""The key that has to stand first, which vans it can be planted in, and what plants it."""

WISHES = {"household.days_wanted": "60 days", "outlets.shower.wanted": "25 L/min"}
"""What no van of the fleet gives."""


def _planted() -> Iterator[tuple[str, Van]]:
    """Each danger in turn, in the next van that it can be planted in."""
    seed = 0
    for number in range(PLANTED):
        name = list(DANGERS)[number % len(DANGERS)]
        while not DANGERS[name][1](sound_van(seed).facts):
            seed += 1
        yield name, sound_van(seed)
        seed += 1


def test_a_planted_danger_stands_first_above_every_wish() -> None:
    counts: Counter[str] = Counter()
    wrong = []
    for name, van in _planted():
        key, _, plant = DANGERS[name]
        answers = answers_to(van.plan({**WISHES, **plant(van.facts)}))
        first, *others = answers.findings
        counts[name] += 1
        screen = _plain(" ".join(overview(answers, piped(us=van.facts["us"]))))
        wishes = [each for each in others if each.key in ("stay.days", "outlets.shower.flow")]
        places = [screen.find(_plain(each.statement.text(van.facts["us"]))) for each in (first, *wishes)]
        told = first.key.startswith(key) and first.urgent and len(wishes) == 2 and -1 not in places
        cautions = gravest_first(caution for answer in answers.values() for caution in answer.cautions)
        untold = [each.key for each in cautions if each.grave and _plain(str(each.short)) not in screen]
        if not told or places[0] != min(places) or untold:
            wrong.append((van.raw["van"]["name"], name, first.key, first.statement.text(), places, untold))
    print(f"\n{sum(counts.values())} vans with a danger: {dict(counts)}")  # noqa: T201
    assert wrong == []
    assert set(counts) == set(DANGERS)


def _plain(text: str) -> str:
    return " ".join(text.replace("\N{NARROW NO-BREAK SPACE}", " ").replace("\N{NO-BREAK SPACE}", " ").split())
