from __future__ import annotations

import pytest

from vanwater.answers.core import cautions
from vanwater.answers.core.answer import Caution

ALL = [getattr(cautions, name) for name in cautions.__all__]
GRAVE = [one for one in ALL if one.grave]


def test_every_caution_has_a_key_of_its_own() -> None:
    assert len({one.key for one in ALL}) == len(ALL)
    assert len({one.text for one in ALL}) == len(ALL)


@pytest.mark.parametrize("one", ALL, ids=lambda one: one.key)
def test_a_caution_is_said_in_sentences_and_has_a_source(one: Caution) -> None:
    text = one.text if isinstance(one.text, str) else one.text.text()
    assert text[0].isupper() and text.endswith(".")
    assert one.source


@pytest.mark.parametrize("one", GRAVE, ids=lambda one: one.key)
def test_a_grave_one_can_be_said_in_one_short_line(one: Caution) -> None:
    # 80 columns less the widest label and the spaces around it
    assert 20 < len(one.short) <= 63
    assert one.short[0].isupper() and one.short.endswith(".")
    assert one.short != one.text
