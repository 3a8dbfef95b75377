from __future__ import annotations

import pytest

from tests.evening import EVENING, FAMILY
from vanwater.answers.simultaneous.answer import simultaneous
from vanwater.answers.simultaneous.gains import set_gains


@pytest.mark.parametrize("outlet", ["shower", "galley tap"])
def test_a_gain_is_what_the_changed_plan_gives(outlet: str) -> None:
    """Second way: the plan is changed, asked anew, and the flows of its set compared."""
    gains = set_gains(EVENING.rows, outlet)
    assert gains
    for gain in gains:
        changed = simultaneous(FAMILY.changed(dict(gain.remedy.row.values), si=True)).sets[0]
        for other, more in gain.each.items():
            difference = changed.flow[other].likely - EVENING.flow[other].likely
            assert more == pytest.approx(difference, abs=1e-6 * EVENING.flow[other].likely)
        assert gain.flow == gain.each[outlet]
        assert gain.all_together == pytest.approx(sum(gain.each.values()), rel=1e-12)


def test_the_largest_comes_first_and_none_leaves_another_short() -> None:
    plan = FAMILY.changed({"outlets.galley tap.wanted": "4.1 L/min"})
    one = simultaneous(plan).sets[0]
    flows = [gain.flow for gain in one.remedies_for("shower")]
    assert flows == sorted(flows, reverse=True)
    assert not any(gain.remedy.kind == "sparing" for gain in one.remedies_for("shower"))
    assert any(gain.remedy.kind == "sparing" for gain in EVENING.remedies_for("shower"))


def test_the_words_name_the_change_and_the_gain() -> None:
    best = EVENING.remedies_for("shower")[0]
    assert "galley tap" in best.words.text()
    assert best.gain.text().startswith("shower ")
    assert best.gain.text().endswith("more")
