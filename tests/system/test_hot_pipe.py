from __future__ import annotations

import numpy as np
import pytest

from tests.examples import example
from vanwater.system.batch import Batch
from vanwater.system.hot_pipe import brought_pipe, hot_pipe, pipe_content

FAMILY = example("family-winter")


def test_pipe_between_heater_and_tap() -> None:
    assert hot_pipe(FAMILY, "galley tap") == ("hot trunk", "hot galley line")
    assert hot_pipe(FAMILY, "basin tap") == hot_pipe(FAMILY, "nowhere") == ()
    assert brought_pipe(FAMILY, "nowhere") == ()


def test_run_back_line_from_any_place_cuts_the_pipe_there() -> None:
    for place, kept in (("heater", 0), ("hot tee", 1)):
        plan = FAMILY.changed({"runs.back": {"from": place, "to": "fresh", "run_back": True}})
        whole = hot_pipe(FAMILY, "shower")
        assert brought_pipe(plan, "shower") == whole[:kept]
        assert hot_pipe(plan, "shower") == whole[kept:]


def test_content_is_bore_times_length_and_nothing_where_it_is_not_decided() -> None:
    batch = Batch(FAMILY)
    length = FAMILY.runs["galley spout"].length
    assert length is not None
    assert pipe_content(batch, ("galley spout",)) == pytest.approx(np.pi / 4 * 0.008**2 * length)
    assert pipe_content(batch, ()) == 0
    assert pipe_content(Batch(FAMILY.changed({"runs.galley spout.length": None})), ("galley spout",)) == 0
