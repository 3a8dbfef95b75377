from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given

from tests.strategies import connections
from vanwater.plan.joint import Joint, read_joint
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError
from vanwater.quantities import BORE


@pytest.mark.parametrize(
    ("text", "kind", "size", "sex"),
    [
        ("barb 13 mm", "barb", 0.013, ""),
        ("Push-fit  12 mm", "push-fit", 0.012, ""),
        ("crimp 1/2 in", "crimp", 0.0127, ""),
        ("BSP 1/2 in male", "bsp", 0.020955, "male"),
        ("bsp 1/2 female", "bsp", 0.020955, "female"),
        ("NPT 3/4 in female", "npt", 0.02667, "female"),
        ("M22x1.5 male", "metric", 0.022, "male"),
        ("BSP 1 1/2 in male", "bsp", 0.047803, "male"),
        ("npt 2 in female", "npt", 0.060325, "female"),
        ("GHT 3/4 in male", "ght", 0.026988, "male"),
        ("camlock 1 1/2 in female", "camlock", 0.0534, "female"),
        ("metric M16 x 1 female", "metric", 0.016, "female"),
    ],
)
def test_connections_are_read(text: str, kind: str, size: float, sex: str) -> None:
    joint = read_joint(text)
    assert (joint.kind, joint.sex) == (kind, sex)
    assert joint.size == pytest.approx(size)
    assert joint.thread is bool(sex)


@given(text=connections())
def test_what_is_written_back_reads_as_the_same_connection(text: str) -> None:
    joint = read_joint(text)
    assert read_joint(joint.text) == joint
    turned = read_joint(joint.turned)
    assert read_joint(turned.turned) == joint
    assert (turned == joint) is not joint.thread


@pytest.mark.parametrize(
    ("text", "expected", "slip"),
    [
        ("BSP 1/2 in", '"barb 13 mm"', 'Say "male" or "female"'),
        ("G 1/2 male", '"barb 13 mm"', 'written "BSP"'),
        ("BSP 5/8 in male", "1/4, 3/8, 1/2, 3/4, 1, 1 1/4, 1 1/2, 2 in", "`vanwater stock joints`"),
        ("M90 x 2 male", "M6 to M60", "`vanwater stock joints`"),
        ("glue 12 mm", '"barb 13 mm"', "`vanwater stock joints`"),
        ("barb 12", '"barb 13 mm"', "`vanwater stock joints`"),
    ],
)
def test_what_is_no_connection_is_told_with_its_place(text: str, expected: str, slip: str) -> None:
    raw: dict[str, Any] = {
        "van": {"name": "x"},
        "household": {"people": 1},
        "tees": {"a": {}, "b": {}},
        "runs": {"r": {"from": "a", "to": "b", "start_joint": text}},
    }
    with pytest.raises(PlanError) as caught:
        Plan.of(raw, file=True)
    (problem,) = caught.value.problems
    assert problem.address == "runs.r.start_joint"
    assert expected in problem.expected
    assert slip in problem.slip


def test_a_joint_is_no_more_than_its_parts() -> None:
    assert read_joint("BSP 1/2 in male") == Joint("bsp", BORE.read("20.955 mm"), "male", 0.001814, "BSP 1/2 in male")
