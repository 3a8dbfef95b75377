"""Every caution stands in terminal, document and notebook where a plan raises it, and nowhere else."""

from __future__ import annotations

import datetime as dt
import html
import re
from functools import lru_cache
from typing import Any

import pytest

from tests.answers.dangers import plan_with
from tests.pumped import on_the_mains
from tests.terminal.made import piped
from vanwater.answers.core import cautions
from vanwater.answers.core.answer import Caution
from vanwater.answers.questions import QUESTIONS, Answers, answers_to
from vanwater.document.html import render
from vanwater.panels.bench import Bench
from vanwater.plan.model import Plan
from vanwater.terminal.overview import everything, overview

ALL: dict[str, Caution] = {each.key: each for name in cautions.__all__ for each in [getattr(cautions, name)]}

COLD: dict[str, Any] = {
    **dict.fromkeys(("heaters.heater", "mixers.shower mixer", "mixers.tap mixer", "tees.hot tee")),
    **dict.fromkeys(f"runs.{run}" for run in ("heater feed", "hot trunk", "hot shower line", "hot tap line", "spout")),
    **dict.fromkeys(("runs.shower hose", "outlets.shower.temperature", "outlets.tap.temperature")),
    "runs.cold shower line": {"from": "cold tee", "to": "shower", "size": "pex 12 mm", "length": "1 m"},
    "runs.cold tap line": {"from": "cold tee", "to": "tap", "size": "pex 12 mm", "length": "1 m"},
}
INSIDE = {
    f"tanks.{tank}.{field}": value for tank in ("fresh", "grey") for field, value in (("beside", "room"), ("z", "0 m"))
}
VARIANTS: dict[str, dict[str, Any]] = {
    "sound": {},
    "gas": {"heaters.heater.source": "gas"},
    "diesel": {"heaters.heater.source": "diesel"},
    "engine": {"heaters.heater.source": "engine"},
    "battery": {"heaters.heater.source": "battery", "heaters.heater.volts": "12 V"},
    "mild": {"heaters.heater.set_point": "42 °C", "mixers.tap mixer.set": "38 °C", "outlets.tap.temperature": "38 °C"},
    "cold": COLD,
    "no pads": dict.fromkeys(("pads.fresh pad", "pads.grey pad")),
    "pvc": {"runs.suction.size": "pvc hose 12.5 mm"},
    "filter": {"runs.cold trunk.fittings": {"cartridge filter": 1}},
    "filter in the warm": {
        "runs.cold trunk.fittings": {"cartridge filter": 1},
        "frost.design_cold": "5 °C",
        "frost.mean_cold": "8 °C",
    },
    "warm": {"frost.design_cold": "5 °C", "frost.mean_cold": "8 °C"},
    "inside": INSIDE,
    "no container": {"tanks.urine container": None},
    "laid up": {"water.drained": True},
    "us": {"van.units": "us", "heaters.heater.source": "engine"},
}
BY_HAND = {
    "van": {"name": "plain"},
    "household": {"people": 2, "habits": "careful"},
    "tanks": {"waste": {"holds": "grey", "capacity": "20 L", "beside": "room"}},
    "pumps": {"foot": {"kind": "foot", "stroke": "0.1 L", "strokes": "40 a minute", "stall": "0.8 bar"}},
}
BARE = {"van": {"name": "bare"}, "household": {"people": 2}}

RAISED: dict[str, tuple[str, str]] = {
    "gas heat": ("gas", "sound"),
    "diesel heat": ("diesel", "gas"),
    "engine heat": ("engine", "sound"),
    "drained heater": ("laid up", "sound"),
    "element": ("sound", "gas"),
    "shock": ("sound", "battery"),
    "relief valve": ("gas", "cold"),
    "wiring": ("sound", "by hand"),
    "pad": ("sound", "no pads"),
    "weight": ("sound", "bare"),
    "straps": ("sound", "bare"),
    "blow-out": ("sound", "warm"),
    "scald": ("sound", "mild"),
    "bleach": ("sound", "by hand"),
    "frozen filter": ("filter", "filter in the warm"),
    "antifreeze": ("sound", "warm"),
    "hose": ("pvc", "sound"),
    "drinking water": ("sound", "by hand"),
    "air gap": ("sound", "by hand"),
    "legionella": ("sound", "cold"),
    "toilet": ("sound", "no container"),
    "chlorinated water": ("sound", "by hand"),
    "mains water": ("mains", "sound"),
    "battery in frost": ("sound", "by hand"),
    "frost": ("sound", "warm"),
    "drilling": ("sound", "inside"),
    "under the floor": ("sound", "inside"),
    "grey water": ("by hand", "bare"),
    "filter": ("filter in the warm", "sound"),
}


@lru_cache
def van(variant: str) -> Plan:
    if variant in ("by hand", "bare"):
        return Plan.of({"by hand": BY_HAND, "bare": BARE}[variant], file=True)
    if variant == "mains":
        return Plan.of(on_the_mains("diaphragm"), file=True)
    return plan_with(VARIANTS[variant])


def one_line(text: str) -> str:
    return " ".join(html.unescape(re.sub(r"<[^>]+>", " ", text)).replace("\u202f", " ").split())


@lru_cache
def told(variant: str) -> tuple[Answers, str]:
    """The answers to a van, and their document."""
    answers = answers_to(van(variant))
    return answers, render(answers, date=dt.date(2026, 5, 1), charts={})


@lru_cache
def media(variant: str) -> dict[str, str]:
    answers, page = told(variant)
    bench = Bench(van(variant))
    notebook = " ".join(bench.page(key).cautions().piece.html for key in answers)
    return {
        "terminal": one_line(" ".join(everything(answers, piped(us=van(variant).us)))),
        "document": one_line(page[page.index("<main") :]),
        "notebook": one_line(notebook),
        "first screen": one_line(" ".join(overview(answers, piped(us=van(variant).us)))),
        "first page": one_line(page[page.index('class="first"') : page.index('class="answer"')]),
    }


def words(caution: Caution, us: bool = False) -> str:
    return one_line(caution.text if isinstance(caution.text, str) else caution.text.text(us))


def test_every_caution_is_looked_at() -> None:
    assert {*RAISED, "estimate"} == {*ALL}


@pytest.mark.parametrize("key", RAISED)
def test_a_caution_stands_where_a_plan_raises_it_and_nowhere_else(key: str) -> None:
    caution, (raising, other) = ALL[key], RAISED[key]
    assert caution.raised(van(raising)) and not caution.raised(van(other))
    for medium in ("terminal", "document", "notebook"):
        assert words(caution) in media(raising)[medium], medium
        assert words(caution) not in media(other)[medium], medium
    for glance in ("first screen", "first page"):
        assert (one_line(caution.short) in media(raising)[glance]) is caution.grave, glance
        assert one_line(caution.short) not in media(other)[glance], glance


@pytest.mark.parametrize("key", ALL)
def test_a_caution_stands_in_each_section_that_has_its_number(key: str) -> None:
    variant = RAISED.get(key, ("sound",))[0]
    answers, page = told(variant)
    sections = page.split('<section class="answer"')[1:]
    holders = [question for question in answers if ALL[key] in QUESTIONS[question].cautions]
    assert holders
    whole_there = 0
    for question, section in zip(answers, sections, strict=True):
        text = one_line(section)
        brief, whole = one_line(ALL[key].short) in text, words(ALL[key]) in text
        assert (brief or whole) is (question in holders), question
        whole_there += whole
    assert whole_there == 1


def test_the_panel_shows_the_grave_ones_and_folds_the_others() -> None:
    panel = Bench(van("engine")).panel("hot_water")
    shown = one_line(panel.grave.value)
    assert words(ALL["engine heat"]) in shown and "95 °C" in shown.replace("\xa0", " ")
    assert words(ALL["legionella"]) not in shown
    assert words(ALL["engine heat"], us=True) in one_line(Bench(van("us")).panel("hot_water").grave.value)


def test_a_caution_is_told_in_the_plans_own_units() -> None:
    for medium in ("terminal", "document", "notebook"):
        assert words(ALL["engine heat"], us=True) in media("us")[medium]
    metric = re.compile(r"\d\s?(°C|L\b|kg|bar|m\b)")
    assert not [key for key, caution in ALL.items() if metric.search(words(caution, us=True))]


def test_the_gravest_stand_first_at_a_glance() -> None:
    for glance in ("first screen", "first page"):
        text = media("sound")[glance]
        raised = [each for each in ALL.values() if each.grave and each.raised(van("sound"))]
        told = sorted(raised, key=lambda each: text.index(one_line(each.short)))
        classes = [each.harm for each in told]
        assert classes == sorted(classes) and len(set(classes)) > 1


def test_the_limits_of_use_stand_on_the_first_page() -> None:
    assert words(ALL["estimate"]) in media("sound")["first page"]


@pytest.mark.parametrize("caution", ALL.values(), ids=ALL)
def test_a_caution_has_a_source_a_harm_and_few_words(caution: Caution) -> None:
    assert 20 < len(caution.short) <= (63 if caution.grave else 75) and caution.short.endswith(".")
    assert caution.source and (not caution.grave or caution.harm <= 2)
