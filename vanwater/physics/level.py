"""Levels: what a gauge shows for the water in a tank, and tanks of any shape by a measured dip table."""

from __future__ import annotations

import math

import numpy as np

from vanwater.physics._polyline import polyline, rises
from vanwater.quantities import Array, Length, Real, Volume

__all__ = ["box_level", "dip_level", "dip_volume", "horizontal_cylinder_level", "vertical_cylinder_level"]

_MOST_STEPS = 100


def box_level(volume: Volume[Real], length: Length[Real], width: Length[Real]) -> Length[Array]:
    """Level in a level box.

    Formula: V / (L W)

    Parameters
    ----------
    volume : float or array
        Water, V [m³].
    length : float or array
        Inside length, L [m].
    width : float or array
        Inside width, W [m].

    Returns
    -------
    array
        Level above the floor of the tank [m].

    Raises
    ------
    ValueError
        When length or width is not above zero.

    Notes
    -----
    Not capped at the tank's height.

    References
    ----------
    Geometry.

    Examples
    --------
    >>> round(float(box_level(7.5e-3, 1.0, 0.5)), 4)
    0.015
    """
    return np.asarray(volume, dtype=np.float64) / (_positive("length", length) * _positive("width", width))


def vertical_cylinder_level(volume: Volume[Real], diameter: Length[Real]) -> Length[Array]:
    """Level in a standing cylinder.

    Formula: 4 V / (π D²)

    Parameters
    ----------
    volume : float or array
        Water, V [m³].
    diameter : float or array
        Inside diameter, D [m].

    Returns
    -------
    array
        Level above the floor of the tank [m].

    Raises
    ------
    ValueError
        When the diameter is not above zero.

    Notes
    -----
    Flat floor; not capped at the tank's height.

    References
    ----------
    Geometry.

    Examples
    --------
    >>> round(float(vertical_cylinder_level(14.73e-3, 0.25)), 3)
    0.3
    """
    return np.asarray(volume, dtype=np.float64) / ((math.pi / 4) * _positive("diameter", diameter) ** 2)


def horizontal_cylinder_level(volume: Volume[Real], diameter: Length[Real], length: Length[Real]) -> Length[Array]:
    """Level in a lying cylinder with flat ends.

    Formula: D (1 − cos(φ/2)) / 2, φ − sin φ = 8 V / (L D²)

    Parameters
    ----------
    volume : float or array
        Water, V; kept between empty and full [m³].
    diameter : float or array
        Inside diameter, D [m].
    length : float or array
        Inside length, L [m].

    Returns
    -------
    array
        Level above the lowest line [m].

    Raises
    ------
    ValueError
        When diameter or length is not above zero.

    Notes
    -----
    The inverse of ``vessel.horizontal_cylinder_volume``, solved to rounding by Newton's steps in a bracket.

    References
    ----------
    Circular segment; Jones, Calculating Tank Volume.

    Examples
    --------
    >>> round(float(horizontal_cylinder_level(35.343e-3, 0.30, 1.0)), 4)
    0.15
    """
    wide = _positive("diameter", diameter)
    wanted = 8.0 * np.asarray(volume, dtype=np.float64) / (_positive("length", length) * wide**2)
    wanted = np.clip(wanted, 0.0, 2.0 * math.pi)
    low, high = np.zeros_like(wanted), np.full_like(wanted, 2.0 * math.pi)
    wetted = np.minimum(np.cbrt(6.0 * wanted), math.pi)
    for _ in range(_MOST_STEPS):
        over = wetted - np.sin(wetted) - wanted
        low, high = np.where(over < 0.0, wetted, low), np.where(over < 0.0, high, wetted)
        slope = 1.0 - np.cos(wetted)
        step = wetted - over / np.where(slope > 0.0, slope, np.inf)
        moved = np.where((step > low) & (step < high), step, 0.5 * (low + high))
        if np.all(np.abs(moved - wetted) <= 1e-15 * wetted):
            break
        wetted = moved
    return 0.5 * wide * (1.0 - np.cos(0.5 * wetted))


def dip_volume(level: Length[Real], levels: Length[Array], volumes: Volume[Array]) -> Volume[Array]:
    """Water in a tank of any shape by its measured dip table.

    Parameters
    ----------
    level : float or array
        Level above the floor of the tank; kept within the table [m].
    levels : array
        Levels of the table, rising [m].
    volumes : array
        Water at each of them, rising [m³].

    Returns
    -------
    array
        Water [m³].

    Raises
    ------
    ValueError
        When the table has fewer than two points or does not rise.

    Notes
    -----
    Straight lines between the points: pour in by the jug, dip, write down; five points do.

    References
    ----------
    The builder's own measurement.

    Examples
    --------
    >>> round(float(dip_volume(0.10, np.array([0, 0.05, 0.20]), np.array([0, 0.018, 0.080]))) * 1e3, 2)
    38.67
    """
    at, held = _table(levels, volumes)
    return polyline(at, held).at(np.clip(np.asarray(level, dtype=np.float64), at[..., 0], at[..., -1]))[0]


def dip_level(volume: Volume[Real], levels: Length[Array], volumes: Volume[Array]) -> Length[Array]:
    """Level in a tank of any shape by its measured dip table.

    Parameters
    ----------
    volume : float or array
        Water; kept within the table [m³].
    levels : array
        Levels of the table, rising [m].
    volumes : array
        Water at each of them, rising [m³].

    Returns
    -------
    array
        Level above the floor of the tank [m].

    Raises
    ------
    ValueError
        When the table has fewer than two points or does not rise.

    Notes
    -----
    The inverse of ``dip_volume``.

    References
    ----------
    The builder's own measurement.

    Examples
    --------
    >>> round(float(dip_level(38.6667e-3, np.array([0, 0.05, 0.20]), np.array([0, 0.018, 0.080]))), 3)
    0.1
    """
    at, held = _table(levels, volumes)
    return polyline(held, at).at(np.clip(np.asarray(volume, dtype=np.float64), held[..., 0], held[..., -1]))[0]


def _positive(name: str, value: Real) -> Array:
    values = np.asarray(value, dtype=np.float64)
    if np.any(values <= 0.0):
        raise ValueError(f"{name}: {value} m must lie above zero.")
    return values


def _table(levels: Array, volumes: Array) -> tuple[Array, Array]:
    at, held = np.asarray(levels, dtype=np.float64), np.asarray(volumes, dtype=np.float64)
    if at.ndim == 0 or at.shape[-1:] != held.shape[-1:] or at.shape[-1] < 2:
        raise ValueError(f"levels: {at.shape} levels and {held.shape} volumes; two points or more of each are needed.")
    if not (rises(at) and rises(held)):
        raise ValueError(f"levels: the table {at.tolist()} m, {held.tolist()} m³ does not rise.")
    return at, held
