"""What a battery's cells are: what they give in the cold, whether they take a charge there.

``data/tables/chemistries.csv`` holds them, each row with its source.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache

from vanwater.plan.tables import rows_in
from vanwater.quantities import HOURS, RATIO, SHARE, TEMPERATURE

__all__ = ["Chemistry", "chemistries"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Chemistry:
    """What the cells of a battery are.

    Parameters
    ----------
    key, name : str
        As a plan writes it, and in words.
    at_freezing, at_minus_10, at_minus_20 : float
        Share of the capacity at 25 °C that is left at 0, −10 and −20 °C [-].
    charged_in_frost : bool
        Whether it may be charged below freezing.
    stored : float
        Share of what is charged that can be drawn again [-].
    peukert : float
        Peukert's exponent [-].
    rated_hours : float
        Time in which its capacity was read [s].
    freezes_empty : float or None
        Temperature at which an empty one freezes [K].
    source, note : str
        Where it comes from, and what else to know.
    """

    key: str
    name: str
    at_freezing: float
    at_minus_10: float
    at_minus_20: float
    charged_in_frost: bool
    stored: float
    peukert: float
    rated_hours: float
    freezes_empty: float | None
    source: str
    note: str


@lru_cache
def chemistries() -> Mapping[str, Chemistry]:
    """What the cells of a battery may be, by key."""
    return {
        row["key"]: Chemistry(
            key=row["key"],
            name=row["name"],
            at_freezing=SHARE.read(row["at_freezing"]),
            at_minus_10=SHARE.read(row["at_minus_10"]),
            at_minus_20=SHARE.read(row["at_minus_20"]),
            charged_in_frost=row["charged_in_frost"] == "yes",
            stored=SHARE.read(row["stored"]),
            peukert=RATIO.read(row["peukert"]),
            rated_hours=HOURS.read(row["rated_hours"]),
            freezes_empty=TEMPERATURE.read(row["freezes_empty"]) if row["freezes_empty"] else None,
            source=f"{row['source']}, {row['basis']}",
            note=row["note"],
        )
        for row in rows_in("chemistries.csv")
    }
