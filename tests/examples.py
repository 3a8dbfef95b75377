"""The example vans, read once for all tests."""

from __future__ import annotations

from functools import lru_cache
from pathlib import Path

from vanwater.plan.file import read
from vanwater.plan.model import Plan

PLANS = Path(__file__).parents[1] / "data" / "plans"
NAMES = tuple(sorted(path.stem for path in PLANS.glob("*.toml")))


@lru_cache
def example(name: str) -> Plan:
    """An example van by the stem of its file."""
    return read(PLANS / f"{name}.toml").plan
