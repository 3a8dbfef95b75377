"""How long skin stands hot water."""

from __future__ import annotations

import numpy as np

from vanwater.quantities import Array, Real, Seconds, Temperature

__all__ = ["scald_time"]

_ZERO, _RANKINE = 459.67, 5.0 / 9.0
_TEMPERATURE = np.array([44.0 + 273.15, *((_ZERO + f) * _RANKINE for f in (120.0, 130.0, 140.0, 150.0))])
_TIME = np.array([6 * 3600.0, 300.0, 30.0, 6.0, 2.0])


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
