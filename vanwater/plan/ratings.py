"""What joints, fittings, taps and pieces stand: pressure by temperature, from the table of ratings."""

from __future__ import annotations

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Protocol

from vanwater.plan.part import above
from vanwater.plan.tables import FittingRow, resource
from vanwater.quantities import PRESSURE, TEMPERATURE

__all__ = ["MARGIN", "Rated", "RatingRow", "rating_at", "rating_of", "ratings", "ratings_of_fitting"]

MARGIN = 0.10
"""Share of a rating that is kept free (common practice)."""


class Rated(Protocol):
    """Anything that stands ``rated_pressure`` at ``rated_at`` and ``hot_pressure`` at ``hottest``; Pa and K."""

    @property
    def rated_pressure(self) -> float | None:
        """Gauge pressure when cold; None where it stands none."""

    @property
    def rated_at(self) -> float | None:
        """Temperature up to which it stands that."""

    @property
    def hottest(self) -> float:
        """Highest temperature that it is made for."""

    @property
    def hot_pressure(self) -> float | None:
        """Gauge pressure at that."""


@dataclass(frozen=True, slots=True, kw_only=True)
class RatingRow:
    """What a joint, a fitting, an outlet or a piece stands; pressures in Pa, temperatures in K.

    ``kind`` is "joint", "fitting", "outlet" or "piece"; ``least``: the row holds the least that such are made for, and
    the plate of one decides.
    """

    key: str
    name: str
    kind: str
    covers: tuple[str, ...]
    rated_pressure: float
    rated_at: float
    hottest: float
    hot_pressure: float
    least: bool
    source: str


@lru_cache
def ratings() -> Mapping[str, RatingRow]:
    """Ratings by key."""
    with resource("data", "tables", "ratings.csv").open(encoding="utf-8", newline="") as file:
        return {
            row["key"]: RatingRow(
                key=row["key"],
                name=row["name"],
                kind=row["kind"],
                covers=tuple(word.strip() for word in row["covers"].split(",")),
                rated_pressure=PRESSURE.read(row["rated_pressure"]),
                rated_at=TEMPERATURE.read(row["rated_at"]),
                hottest=TEMPERATURE.read(row["hottest"]),
                hot_pressure=PRESSURE.read(row["hot_pressure"]),
                least=row["least"] == "yes",
                source=row["source"],
            )
            for row in csv.DictReader(file)
        }


@lru_cache
def rating_of(kind: str, name: str) -> RatingRow | None:
    """The row that covers a joint, a fitting, an outlet or a piece.

    Parameters
    ----------
    kind : {"joint", "fitting", "outlet", "piece"}
        What it is.
    name : str
        Its key in the table of joints, fittings or outlets; "pump", "heater" or "accumulator".

    Returns
    -------
    RatingRow or None
        None where the table says nothing of it.
    """
    return next((row for row in ratings().values() if row.kind == kind and name in row.covers), None)


def ratings_of_fitting(row: FittingRow) -> tuple[RatingRow, ...]:
    """What is known of a fitting: by itself, and by its joint.

    Parameters
    ----------
    row : FittingRow
        The fitting.

    Returns
    -------
    tuple of RatingRow
        None, one or both.
    """
    return tuple(own for own in (rating_of("fitting", row.key), rating_of("joint", row.joint)) if own is not None)


def rating_at(row: Rated, temperature: float) -> float | None:
    """Pressure that something stands at a temperature, on a straight line between its two ratings.

    Parameters
    ----------
    row : Rated
        Row of a stock size or of the table of ratings.
    temperature : float
        Of the water in it [K]; below the first rating that one holds.

    Returns
    -------
    float or None
        Gauge pressure [Pa]; None for a waste pipe, and hotter than it stands at all.
    """
    if row.rated_pressure is None or row.rated_at is None or above(temperature, row.hottest):
        return None
    if row.hot_pressure is None or not above(min(temperature, row.hottest), row.rated_at):
        return row.rated_pressure
    way = (min(temperature, row.hottest) - row.rated_at) / (row.hottest - row.rated_at)
    return row.rated_pressure + way * (row.hot_pressure - row.rated_pressure)
