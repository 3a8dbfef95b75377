"""Nusselt numbers of air along plates and across cylinders, in wind and in still air."""

from __future__ import annotations

import numpy as np

from vanwater.quantities import Array, Ratio, Real

__all__ = [
    "cylinder_nusselt",
    "plate_nusselt",
    "still_cylinder_nusselt",
    "still_down_nusselt",
    "still_side_nusselt",
    "still_up_nusselt",
]


def plate_nusselt(reynolds: Ratio[Real], prandtl: Ratio[Real]) -> Ratio[Array]:
    """Nusselt number of a flat plate in a stream that is already stirred up.

    Formula: √(0.4409 Re Pr^(2/3) + (0.037 Re^0.8 Pr / (1 + 2.443 Re^(−0.1) (Pr^(2/3) − 1)))²)

    Parameters
    ----------
    reynolds : float or array
        Reynolds number on the length along the stream, Re [-].
    prandtl : float or array
        Prandtl number, Pr [-].

    Returns
    -------
    array
        Mean Nusselt number on that length [-].

    Notes
    -----
    10 < Re < 10⁷, 0.6 < Pr < 2000. The laminar and the turbulent part are joined smoothly: wind around a van is
    turbulent and edges trip it, so there is no step at Re = 5·10⁵. A plate in a smooth stream has the laminar part
    alone (0.664 Re^0.5 Pr^(1/3)) up to there, half of this result and less: the cold side is the safe side.

    References
    ----------
    VDI Heat Atlas (2010), section G4, plane wall; Gnielinski (1975); Petukhov and Popov for the turbulent part.

    Examples
    --------
    >>> round(float(plate_nusselt(1e5, 0.7)), 1)
    361.4
    """
    re, pr = np.asarray(reynolds, dtype=np.float64), np.asarray(prandtl, dtype=np.float64)
    thirds = pr ** (2.0 / 3.0)
    with np.errstate(divide="ignore"):
        turbulent = 0.037 * re**0.8 * pr / (1.0 + 2.443 * re**-0.1 * (thirds - 1.0))
    turbulent = np.where(re > 1.0, turbulent, 0.0)  # the turbulent part has no meaning, nor a value, near rest
    return np.sqrt(0.664**2 * re * thirds + turbulent**2)


def cylinder_nusselt(reynolds: Ratio[Real], prandtl: Ratio[Real]) -> Ratio[Array]:
    """Nusselt number of a cylinder across a stream.

    Formula: 0.3 + 0.62 Re^½ Pr^(1/3) (1 + (0.4 / Pr)^(2/3))^(−¼) s, s = (1 − w) (1 + (Re / 282000)^(5/8))^(4/5) + \
        w (1 + (Re / 282000)^½), w = 0 up to Re = 10⁴ and 1 from 2·10⁴ on

    Parameters
    ----------
    reynolds : float or array
        Reynolds number on the diameter, Re [-].
    prandtl : float or array
        Prandtl number, Pr [-].

    Returns
    -------
    array
        Mean Nusselt number on the diameter [-].

    Notes
    -----
    Re Pr > 0.2; scatter of measurements 20 %. The source's first law reads up to 20 % low between Re = 2·10⁴ and
    4·10⁵, where hoses under a driving van lie, and there it gives the second one. The change from one to the other is
    drawn out, so that there is no step; above 4·10⁵ the second one stays, which takes more heat. Like the plate's law
    it errs to the cold side.

    References
    ----------
    Churchill and Bernstein (1977), J. Heat Transfer 99, 300.

    Examples
    --------
    >>> round(float(cylinder_nusselt(9975.0, 0.707)), 3)
    53.466
    """
    re, pr = np.asarray(reynolds, dtype=np.float64), np.asarray(prandtl, dtype=np.float64)
    change = np.clip(np.log2(np.maximum(re, 1.0) / 1e4), 0.0, 1.0)
    stretch = (1.0 - change) * (1.0 + (re / 282e3) ** 0.625) ** 0.8 + change * (1.0 + np.sqrt(re / 282e3))
    return 0.3 + 0.62 * np.sqrt(re) * np.cbrt(pr) / (1.0 + (0.4 / pr) ** (2.0 / 3.0)) ** 0.25 * stretch


def still_side_nusselt(rayleigh: Ratio[Real], prandtl: Ratio[Real]) -> Ratio[Array]:
    """Nusselt number of an upright face in still air.

    Formula: (0.825 + 0.387 Ra^(1/6) / (1 + (0.492 / Pr)^(9/16))^(8/27))²

    Parameters
    ----------
    rayleigh : float or array
        Rayleigh number on the height, Ra [-].
    prandtl : float or array
        Prandtl number, Pr [-].

    Returns
    -------
    array
        Mean Nusselt number on the height [-].

    Notes
    -----
    Ra up to 10¹².

    References
    ----------
    Churchill and Chu (1975), Int. J. Heat Mass Transfer 18, 1323, vertical plate.

    Examples
    --------
    >>> round(float(still_side_nusselt(7.656e8, 0.7202)), 1)
    113.4
    """
    return (0.825 + 0.387 * _sixth(rayleigh) / _damped(0.492, prandtl)) ** 2


def still_cylinder_nusselt(rayleigh: Ratio[Real], prandtl: Ratio[Real]) -> Ratio[Array]:
    """Nusselt number of a level cylinder in still air.

    Formula: (0.60 + 0.387 Ra^(1/6) / (1 + (0.559 / Pr)^(9/16))^(8/27))²

    Parameters
    ----------
    rayleigh : float or array
        Rayleigh number on the diameter, Ra [-].
    prandtl : float or array
        Prandtl number, Pr [-].

    Returns
    -------
    array
        Mean Nusselt number on the diameter [-].

    Notes
    -----
    Ra up to 10¹².

    References
    ----------
    Churchill and Chu (1975), Int. J. Heat Mass Transfer 18, 1049, horizontal cylinder.

    Examples
    --------
    >>> round(float(still_cylinder_nusselt(5.073e6, 0.697)), 1)
    23.1
    """
    return (0.60 + 0.387 * _sixth(rayleigh) / _damped(0.559, prandtl)) ** 2


def still_up_nusselt(rayleigh: Ratio[Real]) -> Ratio[Array]:
    """Nusselt number of a warm face that looks up, or a cold one that looks down, in still air.

    Formula: max(0.54 Ra^¼, 0.15 Ra^⅓)

    Parameters
    ----------
    rayleigh : float or array
        Rayleigh number on area over perimeter, Ra [-].

    Returns
    -------
    array
        Mean Nusselt number on area over perimeter [-].

    Notes
    -----
    10⁴ < Ra < 10¹¹. The source changes from the first to the second at Ra = 10⁷ with a step of 6 %; the larger of the
    two has no step and changes at 4.7·10⁶.

    References
    ----------
    McAdams (1954), Heat Transmission; Lloyd and Moran (1974) for area over perimeter.

    Examples
    --------
    >>> round(float(still_up_nusselt(1e6)), 2)
    17.08
    """
    ra = np.asarray(rayleigh, dtype=np.float64)
    return np.maximum(0.54 * np.sqrt(np.sqrt(ra)), 0.15 * np.cbrt(ra))


def still_down_nusselt(rayleigh: Ratio[Real]) -> Ratio[Array]:
    """Nusselt number of a warm face that looks down, or a cold one that looks up, in still air.

    Formula: 0.27 Ra^¼

    Parameters
    ----------
    rayleigh : float or array
        Rayleigh number on area over perimeter, Ra [-].

    Returns
    -------
    array
        Mean Nusselt number on area over perimeter [-].

    Notes
    -----
    10⁵ < Ra < 10¹⁰.

    References
    ----------
    McAdams (1954), Heat Transmission.

    Examples
    --------
    >>> round(float(still_down_nusselt(1e6)), 2)
    8.54
    """
    ra = np.asarray(rayleigh, dtype=np.float64)
    return 0.27 * np.sqrt(np.sqrt(ra))


def _sixth(rayleigh: Real) -> Array:
    return np.sqrt(np.cbrt(np.asarray(rayleigh, dtype=np.float64)))


def _damped(constant: float, prandtl: Real) -> Array:
    return (1.0 + (constant / np.asarray(prandtl, dtype=np.float64)) ** (9.0 / 16.0)) ** (8.0 / 27.0)
