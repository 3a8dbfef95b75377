"""Heat through the walls of tanks: films, wall and foam in series."""

from __future__ import annotations

import numpy as np

from vanwater.physics._checks import above_zero, not_negative
from vanwater.physics._skin import settled_film
from vanwater.physics.atmosphere import SEA_LEVEL_PRESSURE
from vanwater.physics.film import STEFAN_BOLTZMANN, combined_film, radiation_film, still_film, wind_film
from vanwater.physics.tank_faces import Faces, Layers
from vanwater.quantities import (
    AbsolutePressure,
    Area,
    Array,
    Conductivity,
    Power,
    Ratio,
    Real,
    Share,
    Speed,
    Temperature,
    Thickness,
    Transmittance,
)

__all__ = [
    "face_transmittance",
    "surface_loss",
    "surface_temperature",
    "transmittance",
]

_USUAL = 7.0  # W/(m²·K), buoyancy and radiation at the start


def transmittance(
    inside_film: Transmittance[Real],
    wall: Thickness[Real],
    wall_conductivity: Conductivity[Real],
    foam: Thickness[Real],
    foam_conductivity: Conductivity[Real],
    outside_film: Transmittance[Real],
    foam_area: Ratio[Real] = 1.0,
    skin_area: Ratio[Real] = 1.0,
) -> Transmittance[Array]:
    """Heat that passes a face for each degree, over the area of its inside.

    Formula: 1 / (1 / h_i + e_w / λ_w + e_f / (a_f λ_f) + 1 / (a_o h_o))

    Parameters
    ----------
    inside_film : float or array
        Film on the water's side, h_i [W/(m²·K)].
    wall : float or array
        Thickness of the wall, e_w [m].
    wall_conductivity : float or array
        Thermal conductivity of the wall, λ_w [W/(m·K)].
    foam : float or array
        Thickness of the insulation, or 0, e_f [m].
    foam_conductivity : float or array
        Thermal conductivity of the insulation, λ_f [W/(m·K)].
    outside_film : float or array
        Film on the air's side, convection and radiation, h_o [W/(m²·K)].
    foam_area : float or array
        Area that it passes in the insulation, edges counted, over that of the inside, a_f [-].
    skin_area : float or array
        Area of the outside over that of the inside, a_o [-].

    Returns
    -------
    array
        Transmittance on the inside area, U [W/(m²·K)].

    Raises
    ------
    ValueError
        When a film, conductivity or area is not above zero, or a thickness is negative.

    Notes
    -----
    Layers without gaps; the areas of a tank are those of ``shape_factors``, 1 for a flat wall. Straps, fittings and
    feet lead heat past the foam and are left out.

    References
    ----------
    Layers in series, any handbook of heat transfer, for example Incropera and DeWitt, section 3.1.

    Examples
    --------
    >>> round(float(transmittance(150.0, 5e-3, 0.4, 20e-3, 0.036, 9.3)), 3)
    1.466
    """
    return 1.0 / (
        _inner(inside_film, wall, wall_conductivity, foam, foam_conductivity, foam_area)
        + 1.0 / (above_zero("outside_film", outside_film) * above_zero("skin_area", skin_area))
    )


def face_transmittance(
    inside: Temperature[Real],
    air: Temperature[Real],
    layers: Layers,
    faces: Faces,
    speed: Speed[Real] = 0.0,
    atmosphere: AbsolutePressure[Real] = SEA_LEVEL_PRESSURE,
) -> Transmittance[Array]:
    """Transmittance of each face of a tank by the air and the wind at it.

    Formula: 1 / (1 / h_i + e_w / λ_w + e_f / (a_f λ_f) + 1 / (a_o h_o)), h_o = (h_wind³ + h_still³)^⅓ + h_radiation

    Parameters
    ----------
    inside : float or array
        Temperature of the water [K].
    air : float or array
        Temperature of the air at each face [K].
    layers : Layers
        Wall e_w, foam e_f, the inside film h_i, and the areas a_f of the foam and a_o of the skin.
    faces : Faces
        Areas, lengths, where each face looks.
    speed : float or array
        Speed of the air along each face, 0 for still [m/s].
    atmosphere : float or array
        Absolute pressure of the atmosphere [Pa].

    Returns
    -------
    array
        Transmittance of each face on its inside area, on the last axis [W/(m²·K)].

    Raises
    ------
    ValueError
        When a film, conductivity or area is not above zero, or a thickness or speed is negative.

    Notes
    -----
    The temperature of the outside surface, which buoyancy and radiation need, is found by repeating the sum until
    it lies within 3e-5 of its height above the air. Faces broadcast on the last axis: give what belongs to the whole
    tank a last axis of one.

    References
    ----------
    VDI Heat Atlas (2010), section G4, for wind; Churchill and Chu (1975) and McAdams (1954) for still air.

    Examples
    --------
    >>> faces = Faces.of_box(0.8, 0.45, 0.2)
    >>> layers = Layers(wall=5e-3, wall_conductivity=0.4, foam=20e-3, foam_conductivity=0.036)
    >>> u = face_transmittance(277.15, 265.15, layers, faces, speed=1.5)
    >>> [round(float(value), 2) for value in u[:3]]
    [1.55, 1.55, 1.55]
    """
    warm, cold = np.asarray(inside, dtype=np.float64), np.asarray(air, dtype=np.float64)
    inner = _inner(
        layers.inside_film,
        layers.wall,
        layers.wall_conductivity,
        layers.foam,
        layers.foam_conductivity,
        layers.foam_area,
    )
    skin = above_zero("skin_area", layers.skin_area)
    wind = wind_film(speed, faces.along, cold, atmosphere)

    def film(excess: Array) -> Array:
        surface = cold + excess
        still = still_film(surface, cold, faces.size, faces.facing, atmosphere)
        return skin * (combined_film(wind, still) + radiation_film(surface, cold, layers.emissivity))

    outer = settled_film(warm - cold, inner, film, skin * (wind + _USUAL))
    return 1.0 / (inner + 1.0 / outer)


def surface_temperature(
    transmittance: Transmittance[Real],
    outside_film: Transmittance[Real],
    inside: Temperature[Real],
    outside: Temperature[Real],
) -> Temperature[Array]:
    """Temperature of the outer surface.

    Formula: T_o + U (T_i − T_o) / h_o

    Parameters
    ----------
    transmittance : float or array
        Transmittance of the face, U [W/(m²·K)].
    outside_film : float or array
        Film on the air's side, h_o [W/(m²·K)].
    inside : float or array
        Temperature inside, T_i [K].
    outside : float or array
        Temperature of the air outside, T_o [K].

    Returns
    -------
    array
        Temperature of the surface [K].

    Raises
    ------
    ValueError
        When the film is not above zero.

    References
    ----------
    Layers in series, any handbook of heat transfer.

    Examples
    --------
    >>> round(float(surface_temperature(9.9413, 10.0, 368.15, 288.15)) - 273.15, 2)
    94.53
    """
    outer = np.asarray(outside, dtype=np.float64)
    return outer + np.asarray(transmittance, dtype=np.float64) * (inside - outer) / above_zero(
        "outside_film", outside_film
    )


def surface_loss(
    area: Area[Real],
    film: Transmittance[Real],
    surface: Temperature[Real],
    air: Temperature[Real],
    emissivity: Share[Real] = 0.9,
) -> Power[Array]:
    """Heat that a surface of known temperature gives to air and surroundings.

    Formula: A (h (T_s − T_a) + ε σ (T_s⁴ − T_a⁴))

    Parameters
    ----------
    area : float or array
        Area of the surface, A [m²].
    film : float or array
        Film of convection, h [W/(m²·K)].
    surface : float or array
        Temperature of the surface, T_s [K].
    air : float or array
        Temperature of the air and of what the surface sees, T_a [K].
    emissivity : float or array
        Emissivity, ε [-].

    Returns
    -------
    array
        Heat given off [W].

    References
    ----------
    Newton's law of cooling, Stefan-Boltzmann law; Incropera and DeWitt, example 1.2.

    Examples
    --------
    >>> round(float(surface_loss(np.pi * 0.07, 15.0, 473.15, 298.15, 0.8)))
    998
    """
    warm, cold = np.asarray(surface, dtype=np.float64), np.asarray(air, dtype=np.float64)
    radiated = emissivity * STEFAN_BOLTZMANN * (warm**4 - cold**4)
    return np.asarray(area, dtype=np.float64) * (film * (warm - cold) + radiated)


def _inner(
    inside_film: Real,
    wall: Real,
    wall_conductivity: Real,
    foam: Real,
    foam_conductivity: Real,
    foam_area: Real,
) -> Array:
    """Resistance from the water to the outer surface, on the inside area."""
    solid = not_negative("wall", wall) / above_zero("wall_conductivity", wall_conductivity)
    soft = not_negative("foam", foam) / above_zero("foam_conductivity", foam_conductivity)
    return 1.0 / above_zero("inside_film", inside_film) + solid + soft / above_zero("foam_area", foam_area)
