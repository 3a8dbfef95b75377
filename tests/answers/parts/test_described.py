"""A part in a few words: what it is, where a tank stands, the values that tell it from others."""

from __future__ import annotations

import pytest

from tests.examples import example
from vanwater.answers.parts.described import described, title


@pytest.mark.parametrize(
    ("plan", "table", "name", "said"),
    [
        ("family-winter", "tanks", "fresh", "under the floor, 30 mm of foam"),
        ("family-winter", "heaters", "heater", "electric, by the inverter, 10 L, 1 200 W"),
        ("family-winter", "accumulators", "accumulator", "1 L"),
        ("family-winter", "battery", "", "lithium iron phosphate, 400 Ah"),
        ("touring-campsites", "tanks", "grey", "in the room, 35 L"),
        ("touring-campsites", "pumps", "pump", "submersible pump"),
        ("weekend-cans", "runs", "tap hose", None),
    ],
)
def test_a_part_in_words(plan: str, table: str, name: str, said: str | None) -> None:
    told = described(example(plan), table, name)
    assert told is not None
    text = told.text().replace("\N{NO-BREAK SPACE}", " ").replace("\N{NARROW NO-BREAK SPACE}", " ")
    assert text == (said or example(plan).runs[name].size)


def test_stock_speaks_for_itself_in_the_readers_units() -> None:
    plan = example("family-winter").changed({"pads.fresh pad": {"stock": "pad 60 W", "tank": "fresh"}})
    told = described(plan, "pads", "fresh pad")
    stocked = plan.stocked("pads", "fresh pad")
    assert told is not None and stocked is not None
    assert told.text(True).startswith(stocked.told(True)) and told.text().startswith(stocked.told(False))


def test_a_tank_is_called_a_tank() -> None:
    assert (title("tanks", "fresh"), title("tanks", "spare can"), title("battery", "")) == (
        "fresh tank",
        "spare can",
        "battery",
    )
