"""The friction law itself, without division by the flow: what a solver evaluates a million times.

Laminar to Re 2000, Colebrook from Re 4000, linear in Re between. :mod:`vanwater.physics.friction` gives it a
handbook's face.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from vanwater.quantities import Array, Ratio

__all__ = ["LAMINAR_LIMIT", "TURBULENT_LIMIT", "FrictionTerms", "friction_terms"]

LAMINAR_LIMIT: Ratio[float] = 2000.0
"""Reynolds number up to which 64/Re holds [-]."""

TURBULENT_LIMIT: Ratio[float] = 4000.0
"""Reynolds number from which Colebrook's equation holds [-]; linear in Re between the two limits."""

_SHIFT = math.log(math.log(10.0) / 5.02)
_ROUGH = math.log(10.0) / 18.574
_HALF_LN10 = math.log(10.0) / 2.0
_AT_LIMIT = 64.0 / LAMINAR_LIMIT
_WIDTH = TURBULENT_LIMIT - LAMINAR_LIMIT


@dataclass(frozen=True, slots=True)
class FrictionTerms:
    """What one pass through the friction law gives; a solver needs all of them.

    Parameters
    ----------
    drag : array
        Darcy factor times Reynolds number, f·Re: 64 in laminar flow, finite at no flow [-].
    slope : array
        Slope of f·Re² against Re [-].
    """

    drag: Ratio[Array]
    slope: Ratio[Array]


def friction_terms(reynolds: Ratio[Array], relative_roughness: Ratio[Array]) -> FrictionTerms:
    """The friction law and its slope without division by the flow, for Newton's method.

    Formula: drag = f Re;  slope = d(f Re²)/dRe

    Parameters
    ----------
    reynolds : array
        Reynolds number, Re [-].
    relative_roughness : array
        Relative roughness, ε/D [-].

    Returns
    -------
    FrictionTerms
        Drag and slope, same law as :func:`friction_factor`. Arguments are not checked.

    Notes
    -----
    With c = ln(10)/2, y = c/√f and u = y + κRe, Colebrook's equation reads u + ln u = κRe + ln(c Re/2.51),
    the equation of Wright's omega function. The start u ≈ R − ln R + ln R / R followed by one step of fourth
    order is exact to 1e-14 for every R above 6.6, that is for Re above 4000.

    References
    ----------
    Colebrook (1939), Turbulent Flow in Pipes, Journal of the ICE 11.
    Clamond (2009), Efficient Resolution of the Colebrook Equation, Ind. Eng. Chem. Res. 48.
    Fritsch, Shafer, Crowley (1973), Algorithm 443, Communications of the ACM 16.

    Examples
    --------
    >>> terms = friction_terms(np.array([0.0, 1e5]), np.array([1e-4, 1e-4]))
    >>> terms.drag.round(4).tolist()
    [64.0, 1851.3866]
    """
    shape = np.broadcast_shapes(np.shape(reynolds), np.shape(relative_roughness))
    reynolds = np.atleast_1d(reynolds)
    turbulent: Array = np.maximum(reynolds, TURBULENT_LIMIT)
    rough = relative_roughness * _ROUGH * turbulent
    right = np.log(turbulent) + rough
    right += _SHIFT
    u = np.log(right)
    u *= 1.0 / right - 1.0
    u += right
    rest = right
    rest -= u
    rest -= np.log(u)
    u_plus_one = u + 1.0
    q = rest * (2.0 / 3.0)
    q += u_plus_one
    q *= u_plus_one
    q *= 2.0
    correction = q - rest
    correction *= rest
    q -= rest
    q -= rest
    q *= u_plus_one
    correction /= q
    correction += 1.0
    u *= correction
    factor = u - rough
    np.divide(_HALF_LN10, factor, out=factor)
    factor *= factor

    share = reynolds - LAMINAR_LIMIT
    share *= 1.0 / _WIDTH
    np.maximum(share, 0.0, out=share)
    np.minimum(share, 1.0, out=share)
    # f·Re: laminar 64, then 0.032·Re fading into the turbulent factor·Re
    base = np.maximum(reynolds * _AT_LIMIT, 64.0)
    drag = factor * reynolds
    u += 1.0
    bend = drag / u
    bend *= -2.0
    middle = (factor - _AT_LIMIT) * reynolds
    middle *= reynolds
    middle *= 1.0 / _WIDTH
    bend = np.where(reynolds < TURBULENT_LIMIT, middle, bend)
    bend = np.where(reynolds <= LAMINAR_LIMIT, -64.0, bend)
    drag -= base
    drag *= share
    drag += base
    bend += drag
    bend += drag
    return FrictionTerms(drag.reshape(shape), bend.reshape(shape))
