"""Chlorine for tank and lines: what a product holds by the basis of its label, how much of it a level takes.

Free chlorine is counted as Cl₂, as test strips and limits do. A label may count in three other ways: as sodium
hypochlorite (NaOCl holds 0.9525 of its mass as Cl₂), by weight instead of by volume (bleach weighs 1.05 to
1.2 kg a litre), or as calcium hypochlorite in a dry product. They differ by 5 to 20 %, so the basis is always said.
"""

from __future__ import annotations

from enum import StrEnum

import numpy as np

from vanwater.physics._checks import above_zero, efficiency, not_negative
from vanwater.quantities import Array, Concentration, Density, Mass, Ratio, Real, Share, Volume

__all__ = [
    "BLEACH_DENSITY",
    "CHLORINE_IN_CALCIUM_HYPOCHLORITE",
    "CHLORINE_IN_HYPOCHLORITE",
    "Basis",
    "available_chlorine",
    "available_share",
    "dry_dose",
    "level_of_dry",
    "level_of_liquid",
    "liquid_dose",
]

_CHLORINE, _OXYGEN, _SODIUM, _CALCIUM = 35.45, 15.999, 22.990, 40.078  # g/mol, IUPAC standard atomic weights

CHLORINE_IN_HYPOCHLORITE: Ratio = 2 * _CHLORINE / (_SODIUM + _OXYGEN + _CHLORINE)
"""Available chlorine, as Cl₂, in a mass of sodium hypochlorite [-]."""

CHLORINE_IN_CALCIUM_HYPOCHLORITE: Ratio = 4 * _CHLORINE / (_CALCIUM + 2 * (_OXYGEN + _CHLORINE))
"""Available chlorine, as Cl₂, in a mass of pure calcium hypochlorite [-]."""

BLEACH_DENSITY: Density = 1080.0
"""Density of household bleach of about 5 % [kg/m³]; common practice, 1.05 to 1.2 kg/L by strength."""

_WATER = 1000.0  # 1 % by volume means 1 g in 100 mL


class Basis(StrEnum):
    """What the percentage on a liquid's label counts."""

    HYPOCHLORITE_BY_WEIGHT = "NaOCl by weight"
    HYPOCHLORITE_BY_VOLUME = "NaOCl by volume"
    CHLORINE_BY_WEIGHT = "chlorine by weight"
    CHLORINE_BY_VOLUME = "chlorine by volume"


_COUNTED = {
    Basis.HYPOCHLORITE_BY_WEIGHT: CHLORINE_IN_HYPOCHLORITE,
    Basis.HYPOCHLORITE_BY_VOLUME: CHLORINE_IN_HYPOCHLORITE,
    Basis.CHLORINE_BY_WEIGHT: 1.0,
    Basis.CHLORINE_BY_VOLUME: 1.0,
}
_BY_WEIGHT = (Basis.HYPOCHLORITE_BY_WEIGHT, Basis.CHLORINE_BY_WEIGHT)


def available_chlorine(
    strength: Share[Real], basis: Basis, density: Density[Real] = BLEACH_DENSITY
) -> Concentration[Array]:
    """Available chlorine by volume of a liquid product, as Cl₂, from the strength on its label.

    Formula: s r f

    Parameters
    ----------
    strength : float or array
        Strength on the label, above zero and up to 1, s [-].
    basis : Basis
        What it counts: f is 0.9525 for NaOCl, 1 for available chlorine; r is the density by weight, 1 kg/L by volume.
    density : float or array
        Density of the product; counts by weight only [kg/m³].

    Returns
    -------
    array
        Available chlorine as Cl₂ [kg/m³].

    Raises
    ------
    ValueError
        When the strength is not above 0 and up to 1, the density is not above zero, or the basis is none of these.

    Notes
    -----
    Fresh product: bleach loses a fifth of its strength in half a year on a shelf, more in the warm (common practice).
    Strength by volume in grams of chlorine per 100 mL is also called trade percent.

    References
    ----------
    White's Handbook of Chlorination (2010), ch. 2, strength of hypochlorite solutions, from memory; atomic weights:
    IUPAC (2021).

    Examples
    --------
    >>> round(float(available_chlorine(0.05, Basis.HYPOCHLORITE_BY_VOLUME)), 2)
    47.62
    >>> round(float(available_chlorine(0.05, Basis.HYPOCHLORITE_BY_WEIGHT, 1080.0)), 2)
    51.43
    """
    known = Basis(basis)
    weight = above_zero("density", density) if known in _BY_WEIGHT else _WATER
    return efficiency("strength", strength) * weight * _COUNTED[known]


def available_share(strength: Share[Real]) -> Share[Array]:
    """Available chlorine in a dry product whose label counts calcium hypochlorite.

    Formula: 0.9918 s

    Parameters
    ----------
    strength : float or array
        Calcium hypochlorite in the product by weight, above zero and up to 1, s [-].

    Returns
    -------
    array
        Available chlorine as Cl₂ by weight [-].

    Raises
    ------
    ValueError
        When the strength is not above 0 and up to 1.

    Notes
    -----
    Most labels already say available chlorine, usually 65 to 70 % (common practice): those need no change.

    References
    ----------
    Atomic weights: IUPAC (2021); Ca(OCl)₂ releases two Cl₂.

    Examples
    --------
    >>> round(float(available_share(0.70)), 4)
    0.6942
    """
    return efficiency("strength", strength) * CHLORINE_IN_CALCIUM_HYPOCHLORITE


def liquid_dose(
    volume: Volume[Real],
    level: Concentration[Real],
    chlorine: Concentration[Real],
    present: Concentration[Real] = 0.0,
) -> Volume[Array]:
    """Liquid product that brings tank and lines to a level of free chlorine.

    Formula: V (c − c₀) / a

    Parameters
    ----------
    volume : float or array
        Water in tank and lines once all is full, V [m³].
    level : float or array
        Level of free chlorine wanted, c [kg/m³].
    chlorine : float or array
        Available chlorine in the product, a, one value for each product [kg/m³].
    present : float or array
        Free chlorine already in the water, c₀ [kg/m³].

    Returns
    -------
    array
        Product to add; none where the level is there already [m³].

    Raises
    ------
    ValueError
        When volume or a level is negative, or the product holds no chlorine.

    Notes
    -----
    Nothing is used up: slime and sediment take chlorine at once, so measure with a strip and add.

    References
    ----------
    Mass balance; California SWRCB, Example Calculations of Chlorine Dosage (2018), Eq. 2A.

    Examples
    --------
    >>> products = np.array([50e3 * 0.9525e-3, 60.0])
    >>> (liquid_dose(83e-3, 50e-3, products) * 1e6).round(2).tolist()
    [87.14, 69.17]
    """
    return _mass(volume, level, present) / above_zero("chlorine", chlorine)


def dry_dose(
    volume: Volume[Real],
    level: Concentration[Real],
    strength: Share[Real],
    present: Concentration[Real] = 0.0,
) -> Mass[Array]:
    """Dry product that brings tank and lines to a level of free chlorine.

    Formula: V (c − c₀) / s

    Parameters
    ----------
    volume : float or array
        Water in tank and lines once all is full, V [m³].
    level : float or array
        Level of free chlorine wanted, c [kg/m³].
    strength : float or array
        Available chlorine in the product by weight, above zero and up to 1, s [-].
    present : float or array
        Free chlorine already in the water, c₀ [kg/m³].

    Returns
    -------
    array
        Product to add; none where the level is there already [kg].

    Raises
    ------
    ValueError
        When volume or a level is negative, or the strength is not above 0 and up to 1.

    Notes
    -----
    Dissolve it in a bucket first; only products without stabiliser or scent are meant for drinking water.

    References
    ----------
    Mass balance; CDC Vessel Sanitation Program, Operations Manual (2018), Annex 13.5.2.

    Examples
    --------
    >>> round(float(dry_dose(85e-3, 50e-3, 0.65)) * 1e3, 2)
    6.54
    """
    return _mass(volume, level, present) / efficiency("strength", strength)


def level_of_liquid(product: Volume[Real], chlorine: Concentration[Real], volume: Volume[Real]) -> Concentration[Array]:
    """Free chlorine that an amount of liquid product makes.

    Formula: v a / V

    Parameters
    ----------
    product : float or array
        Product added, v [m³].
    chlorine : float or array
        Available chlorine in the product, a [kg/m³].
    volume : float or array
        Water in tank and lines once all is full, V [m³].

    Returns
    -------
    array
        Level of free chlorine while nothing has been used up [kg/m³].

    Raises
    ------
    ValueError
        When product or chlorine is negative, or the volume is not above zero.

    Notes
    -----
    The inverse of ``liquid_dose``. Water fed by a dosing pump: what both give in the same time.

    References
    ----------
    Mass balance; California SWRCB, Example Calculations of Chlorine Dosage (2018), Eq. 2A.

    Examples
    --------
    >>> round(float(level_of_liquid(87.14e-6, 47.625, 83e-3)) * 1e3, 2)
    50.0
    """
    added = not_negative("product", product) * not_negative("chlorine", chlorine)
    return np.asarray(added / above_zero("volume", volume), dtype=np.float64)


def level_of_dry(product: Mass[Real], strength: Share[Real], volume: Volume[Real]) -> Concentration[Array]:
    """Free chlorine that an amount of dry product makes.

    Formula: m s / V

    Parameters
    ----------
    product : float or array
        Product added, m [kg].
    strength : float or array
        Available chlorine in the product by weight, above zero and up to 1, s [-].
    volume : float or array
        Water in tank and lines once all is full, V [m³].

    Returns
    -------
    array
        Level of free chlorine while nothing has been used up [kg/m³].

    Raises
    ------
    ValueError
        When the product is negative, the strength is not above 0 and up to 1, or the volume is not above zero.

    Notes
    -----
    The inverse of ``dry_dose``.

    References
    ----------
    Mass balance.

    Examples
    --------
    >>> round(float(level_of_dry(66e-3, 0.65, 0.4)) * 1e3, 1)
    107.2
    """
    added = not_negative("product", product) * efficiency("strength", strength)
    return np.asarray(added / above_zero("volume", volume), dtype=np.float64)


def _mass(volume: Real, level: Real, present: Real) -> Array:
    """Chlorine that is missing [kg]."""
    missing = not_negative("level", level) - not_negative("present", present)
    return np.asarray(not_negative("volume", volume) * np.maximum(missing, 0.0), dtype=np.float64)
