"""The script that plants faults: what it draws, what it leaves alone, which tests it asks first."""

from __future__ import annotations

import ast
from pathlib import Path

import pytest

from tests.planted_faults import ROOT, Fault, draw, faults, harmless, plantable, stages, told_apart

SOURCE = '''"""A text with 2 + 3."""
from typing import TYPE_CHECKING

__all__ = ["lift", "z"[0]]
if TYPE_CHECKING:
    X = 1


@cached(maxsize=4)
def lift(a: Sized[3], b: float = 2.0) -> Sized[4]:
    """Adds 1 + 1."""
    if a[0] < b and not cold(f"{a + 1}"):
        raise ValueError(3)
    while near:
        x = -a * min(b, é)
    return np.where(a, x, b) if warm else [c for c, d in zip(a, b, strict=True) if d]
'''


def planted() -> dict[tuple[int, str], set[str]]:
    told: dict[tuple[int, str], set[str]] = {}
    for fault in faults("a.py", SOURCE):
        told.setdefault((fault.line, fault.old), set()).add(fault.new)
    return told


def test_each_operator_is_planted_where_something_is_reckoned_or_decided() -> None:
    assert planted() == {
        (10, "2.0"): {"2.5"},
        (12, 'a[0] < b and not cold(f"{a + 1}")'): {
            '(a[0] < b or not cold(f"{a + 1}"))'.replace('"', "'"),
            '(not (a[0] < b and (not cold(f"{a + 1}"))))'.replace('"', "'"),
        },
        (12, "a[0] < b"): {"(a[0] <= b)", "(a[0] > b)"},
        (12, "a[0]"): {"a[-1]"},
        (12, "0"): {"1"},
        (12, 'not cold(f"{a + 1}")'): {"cold(f'{a + 1}')"},
        (14, "near"): {"(not near)"},
        (15, "-a * min(b, é)"): {"(-a / min(b, é))"},
        (15, "-a"): {"a"},
        (15, "min"): {"max"},
        (16, "np.where(a, x, b)"): {"np.where(a, b, x)"},
        (16, "warm"): {"(not warm)"},
        (16, "d"): {"(not d)"},
    }


def test_a_planted_source_differs_in_that_place_only_and_can_be_read() -> None:
    sound = SOURCE.encode()
    for fault in faults("a.py", SOURCE):
        assert sound[fault.start : fault.end].decode() == fault.old
        wrong = (sound[: fault.start] + fault.new.encode() + sound[fault.end :]).decode()
        assert ast.dump(ast.parse(wrong)) != ast.dump(ast.parse(SOURCE))


def test_the_seed_says_what_is_drawn() -> None:
    drawn = draw(ROOT, 7, 60, ("physics", "system", "answers"))
    assert drawn == draw(ROOT, 7, 60, ("physics", "system", "answers")) != draw(ROOT, 8, 60, ("physics", "system"))
    assert len({(fault.file, fault.line) for fault in drawn}) == 60
    assert {Path(fault.file).parts[1] for fault in drawn} == {"physics", "system", "answers"}
    assert {fault.file for fault in draw(ROOT, 1, 5, ("system",), "vanwater/system/taps.py")} == {
        "vanwater/system/taps.py"
    }


@pytest.mark.parametrize(
    ("file", "own"),
    [
        ("vanwater/system/taps.py", "tests/system/test_taps.py"),
        ("vanwater/physics/network/solver.py", "tests/physics/test_network.py"),
        ("vanwater/answers/frost/tank.py", "tests/answers/frost/test_tank.py"),
    ],
)
def test_the_tests_that_go_with_a_module_come_first_and_none_comes_twice(file: str, own: str) -> None:
    first, *others = stages(ROOT, Fault(file, 1, 0, 1, "1", "2"), 3)
    assert first[0] == file and own in first
    every = [*first, *(test for stage in others for test in stage)]
    assert len(set(every)) == len(every) > 100
    assert not any("browser" in test or test.endswith("test_checks.py") for test in every)


def test_each_harmless_fault_says_why_and_could_still_be_planted() -> None:
    listed = harmless(ROOT)
    assert listed == sorted(listed)
    for file, line, old, new, why in listed:
        assert len(why) > 40 and why.endswith("."), f"{file}: {old} -> {new}: no argument"
        lines = (ROOT / file).read_text(encoding="utf-8").splitlines()
        there = [fault for fault in plantable(ROOT / file, file) if (fault.old, fault.new) == (old, new)]
        there = [fault for fault in there if lines[fault.line - 1].strip() == line]
        assert there, f"{file}: nothing to plant: {line}: {old} -> {new}"
        assert told_apart(ROOT, there) == ([], there)


def test_what_is_not_listed_is_to_be_seen() -> None:
    drawn = draw(ROOT, 7, 3, ("quantities",))
    assert told_apart(ROOT, drawn) == (drawn, [])
