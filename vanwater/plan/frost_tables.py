"""The tables of frost: how fast the bodies of vans cool, and how much ice bursts what.

Each row says "common practice"; ``data/tables/*.csv`` is the place to mend one.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from vanwater.plan.tables import rows_in, words_in
from vanwater.quantities import HOURS, SHARE

__all__ = ["BodyRow", "BurstRow", "Spread", "bodies", "burst_of", "bursts"]


@dataclass(frozen=True, slots=True)
class Spread:
    """A likely value with the ends between which it lies, in SI."""

    low: float
    likely: float
    high: float


@dataclass(frozen=True, slots=True)
class BodyRow:
    """How fast a van's living room cools: its time constant [s], and the share by which its air falls at once."""

    key: str
    name: str
    time_constant: Spread
    falls: Spread
    source: str


@dataclass(frozen=True, slots=True)
class BurstRow:
    """How much more of the water than its first block turns to ice before a wall of some materials is in danger."""

    key: str
    name: str
    materials: tuple[str, ...]
    more_ice: Spread
    source: str


@lru_cache
def bodies() -> Mapping[str, BodyRow]:
    """Bodies of vans by size."""
    return {
        row["key"]: BodyRow(
            row["key"],
            row["name"],
            Spread(*(HOURS.read(row[column]) for column in ("low", "time_constant", "high"))),
            Spread(*(SHARE.read(row[column]) for column in ("falls_low", "falls", "falls_high"))),
            row["source"],
        )
        for row in rows_in("van_bodies.csv")
    }


@lru_cache
def bursts() -> Mapping[str, BurstRow]:
    """What stands how much ice, by kind."""
    return {
        row["key"]: BurstRow(
            row["key"],
            row["name"],
            words_in(row["materials"]),
            Spread(*(SHARE.read(row[column]) for column in ("low", "more_ice", "high"))),
            row["source"],
        )
        for row in rows_in("bursts.csv")
    }


def burst_of(material: str | None) -> BurstRow:
    """What a wall stands, by its material.

    Parameters
    ----------
    material : str or None
        As the tables of pipes or of materials call it: "pex", "reinforced pvc".

    Returns
    -------
    BurstRow
        That of stiff walls where no row names the material.
    """
    return next((row for row in bursts().values() if material in row.materials), bursts()["stiff"])
