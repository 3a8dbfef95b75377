"""What a conductor may carry for long by a printed table, and the fuse that protects it."""

from __future__ import annotations

import numpy as np

from vanwater.physics._checks import above_zero, not_negative, share
from vanwater.quantities import Array, Current, Ratio, Real, Section, Share

__all__ = ["conductor_ampacity", "least_fuse", "standard_fuse"]

_SAME = 1.0 + 1e-4
"""A section that is printed is not missed by its last digit."""
_ROUNDED = 1.0 + 1e-9
_SPARE = 1.25


def conductor_ampacity(
    section: Section[Real], sections: Section[Array], currents: Current[Array], left: Share[Real] = 1.0
) -> Current[Array]:
    """What a copper conductor may carry for long, by a printed table of sizes.

    Formula: f I_k with A_k ≤ A < A_k+1; f I_1 A / A_1 below the first size

    Parameters
    ----------
    section : float or array
        Cross-section of the conductor, A [m²].
    sections : array
        Sizes of the table, rising, A_k [m²].
    currents : array
        What the table prints for each of them at one insulation, I_k [A].
    left : float or array
        Share of it that is left in warmer air, as in an engine space, f [-].

    Returns
    -------
    array
        Current that it may carry for long [A].

    Raises
    ------
    ValueError
        When the section is not above zero, the share outside 0 to 1, or the table does not rise.

    Notes
    -----
    A size that the table does not print carries what the next thinner one does. Below the thinnest the current falls
    with the section, faster than it would by the heat, on the safe side. For single conductors in free air; bundled or
    within insulation they carry less.

    References
    ----------
    33 CFR 183.425, Table 5; ISO 10133:2012, Table A.1, from memory.

    Examples
    --------
    >>> float(conductor_ampacity(7e-6, np.array([4e-6, 6e-6, 10e-6]), np.array([35.0, 45.0, 65.0])))
    45.0
    """
    area, left = above_zero("section", section), share("left", left)
    sizes, printed = np.asarray(sections, dtype=np.float64), np.asarray(currents, dtype=np.float64)
    if sizes.ndim != 1 or sizes.shape != printed.shape or not (np.diff(sizes) > 0).all():
        raise ValueError(f"sections: {sizes.tolist()} m² do not rise, or are not as many as the currents.")
    place = np.searchsorted(sizes, area * _SAME, side="right") - 1
    return np.asarray(left * np.where(place < 0, printed[0] * area / sizes[0], printed[np.maximum(place, 0)]))


def least_fuse(current: Current[Real], spare: Ratio[Real] = _SPARE) -> Current[Array]:
    """Least rating of a fuse that holds a load for long.

    Formula: m I

    Parameters
    ----------
    current : float or array
        Current of the load while it is on, I [A].
    spare : float or array
        Margin, m [-].

    Returns
    -------
    array
        Least rating [A].

    Raises
    ------
    ValueError
        When the current is negative.

    Notes
    -----
    A fuse that carries its rating for hours in a warm box ages and opens: it is loaded to 80 % at most. The moment in
    which a motor or an inverter starts is shorter than a fuse of the road takes to open.

    References
    ----------
    NFPA 70, article 210.20, 125 % of a continuous load; 80 % of the rating of fuses of ISO 8820 is common practice;
    both from memory.

    Examples
    --------
    >>> float(least_fuse(6.0))
    7.5
    """
    return np.asarray(spare, dtype=np.float64) * not_negative("current", current)


def standard_fuse(least: Current[Real], most: Current[Real], sizes: Current[Array]) -> Current[Array]:
    """Smallest fuse of a series that holds its load and protects its conductor.

    Formula: min I_n with I_least ≤ I_n ≤ I_most

    Parameters
    ----------
    least : float or array
        Least rating that holds the load, I_least [A].
    most : float or array
        What the conductor may carry, I_most [A].
    sizes : array
        Ratings that are sold, rising, I_n [A].

    Returns
    -------
    array
        Its rating; nan where none of the series lies between [A].

    Raises
    ------
    ValueError
        When the series does not rise.

    Notes
    -----
    33 CFR 183.455 allows up to 1.5 of what the conductor may carry below 50 V; here the conductor is the limit itself.

    References
    ----------
    ISO 10133:2012, clause 8, from memory; ISO 8820 for the series.

    Examples
    --------
    >>> float(standard_fuse(7.0, 45.0, np.array([5.0, 7.5, 10.0, 15.0])))
    7.5
    >>> float(standard_fuse(195.0, 198.0, np.array([175.0, 200.0, 225.0])))
    nan
    """
    series = np.asarray(sizes, dtype=np.float64)
    if series.ndim != 1 or not series.size or not (np.diff(series) > 0).all():
        raise ValueError(f"sizes: {series.tolist()} A do not rise.")
    low, high = np.asarray(least, dtype=np.float64), np.asarray(most, dtype=np.float64)
    place = np.searchsorted(series, low / _ROUNDED, side="left")
    fitting = series[np.minimum(place, series.size - 1)]
    return np.where((place < series.size) & (fitting <= high * _ROUNDED), fitting, np.nan)
