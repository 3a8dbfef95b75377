"""How long skin stands hot water."""

from __future__ import annotations

import numpy as np

from vanwater.physics._checks import share as shared
from vanwater.quantities import Array, Real, Seconds, Share, Temperature

__all__ = ["CHILDS", "FIRST", "injury_time", "scald_time"]

_ZERO, _RANKINE = 459.67, 5.0 / 9.0
_TEMPERATURE = np.array([44.0 + 273.15, *((_ZERO + f) * _RANKINE for f in (120.0, 130.0, 140.0, 150.0))])
_TIME = np.array([6 * 3600.0, 300.0, 30.0, 6.0, 2.0])

FIRST: Share[float] = 0.5
"""Share of the time to a burn to the third degree after which an adult's skin is first hurt [-] (from memory)."""

CHILDS: Share[float] = 0.25
"""Share of that time after which a child's skin is hurt [-] (from memory)."""


def scald_time(temperature: Temperature[Real]) -> Seconds[Array]:
    """Time in which water burns an adult's skin to the third degree.

    Parameters
    ----------
    temperature : float or array
        Temperature of the water on the skin [K].

    Returns
    -------
    array
        Time to the burn; infinite below 44 °C [s].

    Notes
    -----
    Straight in the logarithm of time between the published points (6 h at 44 °C, 5 min at 120 °F, 30 s at 130 °F,
    6 s at 140 °F, 2 s at 150 °F), drawn on above. Between the points a factor of 1.5 is fair. Children and old people
    burn faster; pain and first blisters come much earlier.

    References
    ----------
    US Consumer Product Safety Commission, publication 5098, Avoiding Tap Water Scalds; 44 °C: Moritz and Henriques
    (1947), American Journal of Pathology 23, 695 (from memory).

    Examples
    --------
    >>> round(float(scald_time(333.15)), 1)
    6.0
    """
    kelvin = np.asarray(temperature, dtype=np.float64)
    logs = np.log(_TIME)
    slope = (logs[-1] - logs[-2]) / (_TEMPERATURE[-1] - _TEMPERATURE[-2])
    beyond = np.maximum(kelvin - _TEMPERATURE[-1], 0.0) * slope
    return np.where(kelvin < _TEMPERATURE[0], np.inf, np.exp(np.interp(kelvin, _TEMPERATURE, logs) + beyond))


def injury_time(temperature: Temperature[Real], share: Share[Real] = FIRST) -> Seconds[Array]:
    """Time in which water first hurts skin so that it blisters.

    Formula: s t₃(T)

    Parameters
    ----------
    temperature : float or array
        Temperature of the water on the skin, T [K].
    share : float or array
        Share of the time t₃ to a burn to the third degree: 0.5 for an adult, 0.25 for a child, s [-].

    Returns
    -------
    array
        Time; infinite below 44 °C [s].

    Raises
    ------
    ValueError
        When the share is outside 0 to 1.

    Notes
    -----
    A rule of thumb: what is published scatters by a factor of two, and pain comes earlier still.

    References
    ----------
    Moritz and Henriques (1947), American Journal of Pathology 23, 695, for an adult's first injury; children at half of
    it as in burn prevention; both shares from memory.

    Examples
    --------
    >>> [round(float(injury_time(333.15, share)), 1) for share in (FIRST, CHILDS)]
    [3.0, 1.5]
    """
    return shared("share", share) * scald_time(temperature)
