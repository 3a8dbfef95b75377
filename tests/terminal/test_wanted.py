from __future__ import annotations

import pytest

from tests.examples import example_answers
from vanwater.terminal.wanted import SYNONYMS, matching

KNOWN = (
    "stay.days",
    "tank.fresh.days",
    "tank.grey.days",
    "supply.Shower.flow",
    "supply.shower 2.flow",
    "supply.overflow",
)


@pytest.mark.parametrize(
    ("wanted", "meant"),
    [
        ("stay.days", ("stay.days",)),
        ("stay", ("stay.days",)),
        ("grey.days", ("tank.grey.days",)),
        ("GREY", ("tank.grey.days",)),
        ("flow", ("supply.Shower.flow", "supply.shower 2.flow")),
        ("shower.flow", ("supply.Shower.flow",)),
        ("Shower", ("supply.Shower.flow", "supply.shower 2.flow")),
        ("days", ("stay.days", "tank.fresh.days", "tank.grey.days")),
        ("k.fr", ("tank.fresh.days",)),
        ("nothing", ()),
        (" ", ()),
    ],
)
def test_a_key_is_meant_by_itself_its_end_or_a_part(wanted: str, meant: tuple[str, ...]) -> None:
    assert matching(wanted, dict.fromkeys(KNOWN, "")) == meant


FAMILY = {key: number.name for key, number in example_answers("family-winter").numbers.items()}


@pytest.mark.parametrize(
    ("typed", "meant"),
    [
        ("precharge", "pump.pump.precharge_setting"),
        ("pre-charge to set", "pump.pump.precharge_setting"),
        ("flow at the shower", "outlet.shower.flow"),
        ("waste lasts", "tank.grey.days"),
        ("gray duration", "tank.grey.days"),
        ("payload", "van.payload"),
        ("weight of the fresh tank", "tank.fresh.mass"),
        ("days off-grid", "stay.days"),
        ("shower wait", "set.evening.shower.wait"),
    ],
)
def test_words_of_the_screen_and_of_the_trade_lead_to_the_number(typed: str, meant: str) -> None:
    assert meant in matching(typed, FAMILY)[:3]


def test_a_word_that_many_numbers_have_lists_them_all() -> None:
    shower = matching("shower", FAMILY)
    assert "outlet.shower.flow" in shower[:12]
    assert set(shower) >= {key for key in FAMILY if ".shower." in key}


def test_every_key_is_found_by_itself_in_any_case() -> None:
    for key in FAMILY:
        assert matching(key, FAMILY) == (key,)
        assert key in matching(key.upper(), FAMILY)


def test_no_synonym_leads_to_another_one() -> None:
    assert not set(SYNONYMS) & set(SYNONYMS.values())
