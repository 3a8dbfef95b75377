from __future__ import annotations

import gc

import pytest

from vanwater.terminal.memory import uncollected


@pytest.mark.parametrize("collects", [True, False])
def test_circles_are_looked_for_again_afterwards_as_before(collects: bool) -> None:
    before = gc.isenabled()
    (gc.enable if collects else gc.disable)()
    try:
        with pytest.raises(ValueError, match="stopped"), uncollected():
            assert not gc.isenabled()
            raise ValueError("stopped")
        assert gc.isenabled() == collects
    finally:
        (gc.enable if before else gc.disable)()
