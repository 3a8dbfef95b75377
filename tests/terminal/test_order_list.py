"""What to order, as lines."""

from __future__ import annotations

import io

from tests.examples import example
from vanwater.terminal.order_list import parts_lines
from vanwater.terminal.screen import Screen


def test_the_lines_begin_with_what_there_is_to_order() -> None:
    lines = parts_lines(example("family-winter"), Screen.of(io.StringIO()))
    assert lines[0].startswith("To order: 5 sizes")
    assert any(line.lstrip().startswith("R12") for line in lines) and any("hot tee" in line for line in lines)
