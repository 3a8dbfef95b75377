"""What the trade's tables tell of wiring: currents of conductors by size and insulation, fuses that are sold.

``data/tables/conductors.csv``, ``insulations.csv`` and ``fuses.csv`` hold them, each row with its source.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import lru_cache

import numpy as np

from vanwater.plan.tables import rows_in
from vanwater.quantities import CURRENT, SECTION, SHARE, TEMPERATURE, Array

__all__ = ["Conductors", "conductors", "fuse_kind", "fuse_sizes"]


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Conductors:
    """A printed table of single copper conductors in free air: metric sizes, or American gauges.

    Parameters
    ----------
    names : tuple of str
        Its sizes as they are called, the thinnest first.
    sections : array, shape (sizes,)
        Cross-section of one conductor, rising [m²].
    insulations : array, shape (insulations,)
        What the insulation stands, rising [K].
    currents : array, shape (insulations, sizes)
        What a conductor may carry for long [A].
    engine_space : array, shape (insulations,)
        Share of it that is left in an engine space [-].
    unsaid : float
        What an insulation of which nothing is said stands: the least that is commonly sold [K].
    source : str
        Where it comes from.
    """

    names: tuple[str, ...]
    sections: Array = field(repr=False)
    insulations: Array = field(repr=False)
    currents: Array = field(repr=False)
    engine_space: Array = field(repr=False)
    unsaid: float
    source: str


@lru_cache
def conductors(gauge: bool) -> Conductors:
    """The table of the sizes that a cable is told in.

    Parameters
    ----------
    gauge : bool
        Whether those are American wire gauges.

    Returns
    -------
    Conductors
        Metric sizes otherwise.
    """
    kind = "gauge" if gauge else "metric"
    classes = [row for row in rows_in("insulations.csv") if row["kind"] == kind]
    sizes = [row for row in rows_in("conductors.csv") if row["kind"] == kind]
    heads = [f"at_{row['stands'].removesuffix(' °C')}" for row in classes]
    return Conductors(
        names=tuple(row["name"] for row in sizes),
        sections=np.array([SECTION.read(row["section"]) for row in sizes]),
        insulations=np.array([TEMPERATURE.read(row["stands"]) for row in classes]),
        currents=np.array([[CURRENT.read(row[head]) for row in sizes] for head in heads]),
        engine_space=np.array([SHARE.read(row["engine_space"]) for row in classes]),
        unsaid=next(TEMPERATURE.read(row["stands"]) for row in classes if row["unsaid"] == "yes"),
        source=f"{sizes[0]['source']}{'; from memory' if 'from memory' in sizes[0]['basis'] else ''}",
    )


@lru_cache
def _fuses() -> Mapping[float, str]:
    """Ratings that are sold, rising, with the smallest kind of fuse that is made for each [A]."""
    sold: dict[float, str] = {}
    for row in rows_in("fuses.csv"):
        sold.setdefault(CURRENT.read(row["rating"]), row["kind"])
    return dict(sorted(sold.items()))


@lru_cache
def fuse_sizes() -> Array:
    """Ratings of fuses that are sold, rising [A]."""
    return np.array(list(_fuses()))


def fuse_kind(rating: float) -> str:
    """What kind of fuse a rating is sold as: blade, midi or mega; an empty text where none is sold."""
    return _fuses().get(rating, "")
