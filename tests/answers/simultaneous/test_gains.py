from __future__ import annotations

import pytest

from tests.evening import EVENING, FAMILY
from vanwater.answers.simultaneous.answer import simultaneous


@pytest.mark.parametrize("outlet", ["shower", "galley tap"])
def test_a_gain_is_what_the_changed_plan_gives(outlet: str) -> None:
    """Second way: the plan is changed, asked anew, and the flows of its set compared."""
    plan = FAMILY.changed({"pumps.pump.volts": "12.2 V"})
    (evening,) = simultaneous(plan).sets
    gains = evening.gains[outlet]
    assert gains
    for gain in gains:
        changed = simultaneous(plan.changed(dict(gain.remedy.row.values), si=True)).sets[0]
        for other, more in gain.each.items():
            difference = changed.flow[other].likely - evening.flow[other].likely
            assert more.likely == pytest.approx(difference, abs=1e-6 * evening.flow[other].likely)
        assert gain.flow is gain.each[outlet]
        assert gain.all_together.likely == pytest.approx(sum(more.likely for more in gain.each.values()), rel=1e-12)


def test_the_largest_comes_first_and_none_leaves_another_short() -> None:
    plan = FAMILY.changed({"outlets.galley tap.wanted": "4.1 L/min"})
    one = simultaneous(plan).sets[0]
    flows = [gain.flow.likely for gain in one.gains["shower"]]
    assert flows == sorted(flows, reverse=True)
    assert not any(gain.remedy.kind == "sparing" for gain in one.gains["shower"])
    assert any(gain.remedy.kind == "sparing" for gain in EVENING.gains["shower"])


def test_the_words_name_the_change_and_the_gain() -> None:
    best = EVENING.gains["shower"][0]
    assert "galley tap" in best.words.text()
    assert best.gain.text() == f"{best.flow.amount.text()} more at the shower"
