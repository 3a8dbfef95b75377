"""Sizes that are sold where a plan's units are used: what a remedy names can be bought, and its sum holds that size."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from vanwater.plan.electricity import gauge_name, gauge_section
from vanwater.plan.stock import generic
from vanwater.quantities import BORE, LENGTH, PRESSURE, SECTION, THICKNESS, VOLUME

__all__ = ["Sold", "sold"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sold:
    """Sizes and steps of one system of units (common practice, from memory).

    Parameters
    ----------
    foam : float
        Sheet foam that a remedy adds to a face [m].
    sleeve : float
        Sleeve that a remedy puts on a hose or pipe [m].
    sheets, sleeves : tuple of float
        Thicknesses of sheet foam, and of the walls of sleeves, the thinnest first [m].
    accumulators : tuple of float
        Nominal sizes of small accumulators, the smallest first [m³].
    bores : tuple of float
        Bores of hose, the smallest first [m].
    gauge : float
        What the small gauge of a pre-charge is read to [Pa].
    valve : float
        Steps of relief valves and regulators [Pa].
    regulator : float
        What a regulator at a van's inlet is commonly set to [Pa].
    height : float
        Steps in which a pump is moved [m].
    cut : float
        Steps in which hose and pipe are cut from the coil [m].
    cables : mapping of str to float
        Cross-sections of one conductor by what they are called, the thinnest first [m²].
    """

    foam: float
    sleeve: float
    sheets: tuple[float, ...]
    sleeves: tuple[float, ...]
    accumulators: tuple[float, ...]
    bores: tuple[float, ...]
    gauge: float
    valve: float
    regulator: float
    height: float
    cut: float
    cables: Mapping[str, float]


def _nominal(*units: str) -> tuple[float, ...]:
    """Nominal sizes of the stock's accumulators, by the unit in their names."""
    names = (name.removeprefix("accumulator ") for name in generic()["accumulators"])
    return tuple(sorted(VOLUME.read(size) for size in names if size.endswith(units)))


def sold(us: bool) -> Sold:
    """What is sold in metric sizes, or in those of the United States.

    Parameters
    ----------
    us : bool
        Whether the plan is in US units.

    Returns
    -------
    Sold
        Sizes and steps.
    """
    return _US if us else _METRIC


_METRIC = Sold(
    foam=THICKNESS.read("20 mm"),
    sleeve=THICKNESS.read("13 mm"),
    sheets=tuple(THICKNESS.read(f"{sheet} mm") for sheet in (10, 20, 30, 40, 50, 60, 80, 100)),
    sleeves=tuple(THICKNESS.read(f"{sleeve} mm") for sleeve in (6, 9, 13, 19, 25, 32)),
    accumulators=_nominal("L"),
    bores=tuple(BORE.read(f"{bore} mm") for bore in (6, 8, 10, 12, 13, 16, 19, 25)),
    gauge=PRESSURE.read("0.05 bar"),
    valve=PRESSURE.read("0.1 bar"),
    regulator=PRESSURE.read("2.5 bar"),
    height=LENGTH.read("0.05 m"),
    cut=LENGTH.read("0.5 m"),
    cables={f"{size} mm²": SECTION.read(f"{size} mm²") for size in (1.5, 2.5, 4, 6, 10, 16, 25, 35, 50, 70, 95, 120)},
)
_US = Sold(
    foam=THICKNESS.read("3/4 in"),
    sleeve=THICKNESS.read("1/2 in"),
    sheets=tuple(THICKNESS.read(f"{sheet} in") for sheet in ("1/2", "3/4", "1", "1 1/2", "2", "3", "4")),
    sleeves=tuple(THICKNESS.read(f"{sleeve} in") for sleeve in ("3/8", "1/2", "3/4", "1", "1 1/2")),
    accumulators=_nominal("fl oz", "gal"),
    bores=tuple(BORE.read(f"{bore} in") for bore in ("1/4", "5/16", "3/8", "1/2", "5/8", "3/4", "1")),
    gauge=PRESSURE.read("1 psi"),
    valve=PRESSURE.read("5 psi"),
    regulator=PRESSURE.read("40 psi"),
    height=LENGTH.read("0.1 ft"),
    cut=LENGTH.read("1 ft"),
    cables={gauge_name(gauge): gauge_section(gauge) for gauge in (16, 14, 12, 10, 8, 6, 4, 2, 0, -1, -2, -3)},
)
