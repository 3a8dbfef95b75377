"""Plans of every shape read back without a problem; each broken one reports the address that is broken."""

from __future__ import annotations

import tomllib
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.drawn import WHOLE_PLANS
from tests.strategies import BREAKS, Raw, bad_plans, half_plans, plans, toml_file
from vanwater.plan.file import read
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError


@WHOLE_PLANS
@given(raw=plans())
def test_valid_plan_reads_back_from_its_text(raw: Raw, tmp_path_factory: pytest.TempPathFactory) -> None:
    path: Path = tmp_path_factory.mktemp("plan") / "van.toml"
    path.write_text(toml_file(raw), encoding="utf-8", newline="")
    assert tomllib.loads(path.read_text(encoding="utf-8")) == raw
    found = read(path)
    assert found.plan.own == raw
    assert found.plan == Plan.of(raw, file=True)


@WHOLE_PLANS
@given(half=half_plans())
def test_place_that_is_not_written_yet_is_waited_for(half: tuple[Raw, str]) -> None:
    raw, address = half
    assert [".".join(waiting.place) for waiting in Plan.of(raw, file=True).awaited] == [address]


@WHOLE_PLANS
@given(data=st.data())
@pytest.mark.parametrize("way", BREAKS, ids=lambda way: way.__name__)
def test_broken_plan_reports_what_is_broken_and_nothing_else(way: object, data: st.DataObject) -> None:
    raw, address = data.draw(bad_plans((way,)))
    with pytest.raises(PlanError) as caught:
        Plan.of(raw, file=True)
    assert [problem.address for problem in caught.value.problems] == [address]
    (problem,) = caught.value.problems
    assert problem.message
    assert problem.expected
    assert "".join(str(problem).split("\N{NO-BREAK SPACE}")).replace("\N{NARROW NO-BREAK SPACE}", "").isprintable()
