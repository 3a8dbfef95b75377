"""A pressure switch, its pump's curve, and what yields between cut-in and cut-out.

The pump's curve is straight lines through points of flow against pressure, the last one at either end drawn
on. Between the switch pressures accumulator and line take up dV = (V p₀^(1/n) p^(−1/n−1) / n + C) dp. On straight
lines and an isothermal gas the integrals ∫ dV / (Q(p) − q)ᵏ have closed forms whose terms are all positive: no digits
are lost however near the draw comes to what the pump can give.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from vanwater.physics._quadrature import GAUSS_WEIGHTS, log_mean, log_shares
from vanwater.physics.accumulator import drawdown
from vanwater.physics.atmosphere import SEA_LEVEL_PRESSURE
from vanwater.physics.pump import PumpCurve
from vanwater.quantities import AbsolutePressure, Array, Compliance, Pressure, Ratio, Real, Volume

__all__ = ["ElasticStorage", "Pieces", "Switch", "about_mean_state", "line_give", "volume_between"]


@dataclass(frozen=True, slots=True)
class Switch:
    """A pressure switch and the curve of the pump it starts and stops.

    Parameters
    ----------
    cut_in, cut_out : float or array
        Gauge pressures at the pump's outlet that start and stop it [Pa].
    curve : PumpCurve
        The pump at its volts; its rise is taken as the gauge pressure at its outlet.
    """

    cut_in: Pressure[Real]
    cut_out: Pressure[Real]
    curve: PumpCurve


@dataclass(frozen=True, slots=True)
class ElasticStorage:
    """What gives between the switch pressures: the accumulator, the line, or both.

    Parameters
    ----------
    volume : float or array
        Gas volume of the empty accumulator, 0 for none [m³].
    precharge : float or array
        Its pre-charge as a gauge reads it [Pa].
    atmosphere : float or array
        Absolute pressure of the atmosphere [Pa].
    compliance : float or array
        Water the line takes up for each pascal, 0 when left out [m³/Pa].
    exponent : float or array
        Polytropic exponent of the gas, 1 slow, 1.4 fast [-].
    beside : tuple of ElasticStorage
        Further accumulators on the same side of the pump, each with its own gas and without a line; the line counts
        once.
    """

    volume: Volume[Real] = 0.0
    precharge: Pressure[Real] = 0.0
    atmosphere: AbsolutePressure[Real] = SEA_LEVEL_PRESSURE
    compliance: Compliance[Real] = 0.0
    exponent: Ratio[Real] = 1.0
    beside: tuple[ElasticStorage, ...] = ()

    @property
    def vessels(self) -> tuple[ElasticStorage, ...]:
        """Each accumulator: this one, then those beside it."""
        return (self, *self.beside)

    def yields(self, pressure: Pressure[Real]) -> Array:
        """What accumulators and line take up for each pascal at a gauge pressure [m³/Pa]."""
        gas = [np.where(np.asarray(pressure) >= v.precharge, v.gas_yields(pressure), 0.0) for v in self.vessels]
        return np.asarray(sum(gas) + self.compliance)

    def gas_yields(self, pressure: Pressure[Real]) -> Array:
        """What the gas of this accumulator alone takes up for each pascal, as if it were never empty [m³/Pa]."""
        p, p0 = np.asarray(pressure) + self.atmosphere, np.asarray(self.precharge) + self.atmosphere
        n = np.asarray(self.exponent, dtype=np.float64)
        return np.asarray(self.volume / (n * p) * (p0 / p) ** (1.0 / n))


def line_give(compliance: Compliance[Real], cut_in: Pressure[Real], cut_out: Pressure[Real]) -> Volume[Array]:
    """Water that the elastic line alone gives between the switch pressures.

    Formula: C (p_out − p_in)

    Parameters
    ----------
    compliance : float or array
        Water the line takes up for each pascal, C [m³/Pa].
    cut_in : float or array
        Gauge pressure at which the switch starts the pump, p_in [Pa].
    cut_out : float or array
        Gauge pressure at which the switch stops the pump, p_out [Pa].

    Returns
    -------
    array
        Water between the switch pressures [m³].

    References
    ----------
    Definition of compliance; values by kind of hose are unsure and belong to a range.

    Examples
    --------
    >>> round(float(line_give(6e-11, 1.4e5, 2.4e5)) * 1e6, 3)
    6.0
    """
    return np.asarray(compliance, dtype=np.float64) * (np.asarray(cut_out, dtype=np.float64) - cut_in)


def volume_between(switch: Switch, storage: ElasticStorage) -> Volume[Array]:
    """Water that accumulator and line give between cut-out and cut-in.

    Formula: Σ V p₀ (1 / max(p_in, p₀) − 1 / p_out) + C (p_out − p_in)

    Parameters
    ----------
    switch : Switch
        The pressure switch, p_in and p_out.
    storage : ElasticStorage
        Accumulators, each with its V and p₀, and line C; the sum uses absolute pressures.

    Returns
    -------
    array
        Water between the switch pressures [m³].

    Raises
    ------
    ValueError
        When cut-out is not above cut-in or a pressure is impossible.

    References
    ----------
    Boyle's law; for another exponent than 1 see accumulator.drawdown.

    Examples
    --------
    >>> curve = PumpCurve(np.array([0.0, 2e-4]), np.array([2.9e5, 0.0]), 12.0, 12.0)
    >>> switch = Switch(1.4e5, 2.4e5, curve)
    >>> round(float(volume_between(switch, ElasticStorage(compliance=6e-11))) * 1e6, 3)
    6.0
    """
    gas = [
        drawdown(v.volume, v.precharge, switch.cut_in, switch.cut_out, v.atmosphere, v.exponent)
        for v in storage.vessels
    ]
    return np.asarray(sum(gas) + line_give(storage.compliance, switch.cut_in, switch.cut_out))


def about_mean_state(switch: Switch, storage: ElasticStorage, exponent: Ratio[Real]) -> ElasticStorage:
    """The storage with a gas that swings fast about its mean state.

    Formula: V (p₀ / p_m)^(1 − 1/n) in place of V, p_m² = max(p_in, p₀) p_out

    Parameters
    ----------
    switch : Switch
        The pressure switch, p_in and p_out.
    storage : ElasticStorage
        Accumulator V and p₀; the sum uses absolute pressures.
    exponent : float or array
        Polytropic exponent of the swing, 1 slow to 1.4 fast, n [-].

    Returns
    -------
    ElasticStorage
        With that exponent, each accumulator for itself; the same volume for a slow gas or one that is never
        compressed.

    Notes
    -----
    Cycle after cycle the gas is on average as warm as its surroundings, so that Boyle's law gives its mean state;
    only the swing about that state is fast. Between the switch pressures it then gives 1/n of what a slow gas gives,
    a little less the further they lie apart.

    References
    ----------
    Boyle's law; polytropic change of state of an ideal gas.

    Examples
    --------
    >>> switch = Switch(1.4e5, 2.4e5, PumpCurve(np.array([0.0, 2e-4]), np.array([2.9e5, 0.0]), 12.0, 12.0))
    >>> slow = ElasticStorage(1e-3, 1.3e5)
    >>> fast = about_mean_state(switch, slow, 1.4)
    >>> round(float(volume_between(switch, slow) / volume_between(switch, fast)), 2)
    1.4
    """
    n, charge = np.asarray(exponent, dtype=np.float64), storage.precharge + np.asarray(storage.atmosphere)
    bottom, top = (np.maximum(p + np.asarray(storage.atmosphere), charge) for p in (switch.cut_in, switch.cut_out))
    volume = storage.volume * (charge / np.sqrt(bottom * top)) ** (1.0 - 1.0 / n)
    others = tuple(about_mean_state(switch, other, exponent) for other in storage.beside)
    return replace(storage, volume=volume, exponent=exponent, beside=others)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pieces:
    """The straight pieces of a pump's curve between the switch pressures, on the last axis.

    Parameters
    ----------
    low, high : array
        Absolute pressures at the ends of a piece [Pa].
    flow_low, flow_high : array
        The pump's flow there [m³/s]; the larger one at the lower pressure.
    gas_low : array
        Absolute pressure from which on the gas of the accumulator yields in this piece [Pa].
    volume, precharge, line, exponent : array
        The storage's, the pre-charge absolute, with a last axis of one.
    least : array
        The pump's flow at cut-out, without the last axis [m³/s].
    beside : tuple of Pieces
        The same pieces with the gas of each further accumulator.
    """

    low: Array
    high: Array
    flow_low: Array
    flow_high: Array
    gas_low: Array
    volume: Array
    precharge: Array
    line: Array
    exponent: Array
    least: Array
    beside: tuple[Pieces, ...] = ()

    @classmethod
    def of(cls, switch: Switch, storage: ElasticStorage) -> Pieces:
        """Cut the pump's curve at its points and at the switch pressures."""
        flow, rise = switch.curve.flow - np.asarray(switch.curve.slowing)[..., None], switch.curve.rise
        atmosphere, precharge, volume, line, exponent = (
            np.asarray(value, dtype=np.float64)[..., None]
            for value in (storage.atmosphere, storage.precharge, storage.volume, storage.compliance, storage.exponent)
        )
        bottom, top = (np.asarray(p, dtype=np.float64)[..., None] + atmosphere for p in (switch.cut_in, switch.cut_out))
        edges = rise + atmosphere
        steepness = np.diff(flow) / np.diff(rise)  # m³/s for each pascal, not above zero
        inner, end = edges[..., 1:-1], np.full((*edges.shape[:-1], 1), np.inf)
        lower, upper = np.concatenate([inner, -end], axis=-1), np.concatenate([end, inner], axis=-1)
        low, high = np.clip(bottom, lower, upper), np.clip(top, lower, upper)
        flow_low, flow_high = (flow[..., :-1] + steepness * (p - edges[..., :-1]) for p in (low, high))
        least = np.min(np.where(high == top, flow_high, np.inf), axis=-1)
        gas_low = np.clip(precharge + atmosphere, low, high)
        return cls(
            low=low,
            high=high,
            flow_low=flow_low,
            flow_high=flow_high,
            gas_low=gas_low,
            volume=volume,
            precharge=precharge + atmosphere,
            line=line,
            exponent=exponent,
            least=least,
            beside=tuple(cls.of(switch, other) for other in storage.beside),
        )

    def moments(self, draw: Array, highest: int) -> list[Array]:
        """∫ dV / (Q − q)ᵏ from cut-in to cut-out, for k = 1 to highest (at most 3), draw q below the least flow."""
        q = np.asarray(draw, dtype=np.float64)[..., None]
        with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
            net_low, net_high = self.flow_low - q, self.flow_high - q
            line = self._line(net_low, net_high, highest)
            gases = [vessel._gas(net_low, net_high, highest) for vessel in (self, *self.beside)]
            both = [self.line * soft + sum(give) for soft, *give in zip(line, *gases, strict=True)]
            return [np.sum(part, axis=-1) for part in both]

    def _gas(self, net_low: Array, net_high: Array, highest: int) -> list[Array]:
        of_gas = self._isothermal if np.all(self.exponent == 1.0) else self._polytropic
        return of_gas(net_low, net_high, highest)

    def _line(self, net_low: Array, net_high: Array, highest: int) -> list[Array]:
        span = self.high - self.low
        parts = [span * log_mean(net_low, net_high)]
        if highest > 1:
            product = net_low * net_high
            parts += [span / product, span * (net_low + net_high) / (2.0 * product**2)][: highest - 1]
        return [np.where(span > 0, part, 0.0) for part in parts]

    def _gas_end(self, net_low: Array, net_high: Array) -> tuple[Array, Array]:
        """Slope of the net flow, and net flow where the gas begins to yield."""
        span = self.high - self.low
        slope = np.where(span > 0, (net_low - net_high) / np.where(span > 0, span, 1.0), 0.0)
        return slope, net_high + slope * (self.high - self.gas_low)

    def _isothermal(self, net_low: Array, net_high: Array, highest: int) -> list[Array]:
        slope, net = self._gas_end(net_low, net_high)
        p1, p2 = self.gas_low, self.high
        alpha = net_high + slope * p2
        gap, logs = (p2 - p1) / (p1 * p2), np.log(p2 / p1) + np.log(net / net_high)
        parts = [gap / alpha + slope * logs / alpha**2]
        if highest > 1:
            inverse, squares = 1.0 / net_high - 1.0 / net, 1.0 / net_high**2 - 1.0 / net**2
            second = gap / alpha**2 + slope * (2.0 * logs / alpha**3 + inverse / alpha**2)
            bent = 3.0 * logs / alpha**4 + 2.0 * inverse / alpha**3 + squares / (2.0 * alpha**2)
            parts += [second, gap / alpha**3 + slope * bent][: highest - 1]
        gas = self.volume * self.precharge
        return [np.where(p2 > p1, gas * part, 0.0) for part in parts]

    def _polytropic(self, net_low: Array, net_high: Array, highest: int) -> list[Array]:
        """Gauss quadrature in ln(Q − q), where the integrand is smooth however near the draw comes to the flow.

        Only in pieces where the gas yields.
        """
        _, net = self._gas_end(net_low, net_high)
        every = np.broadcast_arrays(self.gas_low, self.high, net, net_high, self.volume, self.precharge, self.exponent)
        gives = (every[1] > every[0]) & (every[4] > 0)
        parts = np.zeros((highest, *gives.shape))
        p1, p2, net, net_high, volume, precharge, exponent = (each[gives] for each in every)
        share = log_shares(net, net_high)
        pressure = p2[..., None] - (p2 - p1)[..., None] * share
        gas = _gas_yield(pressure, volume[..., None], precharge[..., None], exponent[..., None])
        scale, weighed = (p2 - p1) * log_mean(net, net_high), GAUSS_WEIGHTS * gas
        parts[0, gives] = scale * np.sum(weighed, axis=-1)
        if highest > 1:
            flow = net_high[..., None] + (net - net_high)[..., None] * share
            for k in range(2, highest + 1):
                parts[k - 1, gives] = scale * np.sum(weighed * flow ** (1.0 - k), axis=-1)
        return list(parts)

    def gas_yield(self, pressure: Array) -> Array:
        """dV/dp of the gas at absolute pressures that have one more axis than the pieces."""
        return _gas_yield(pressure, self.volume[..., None], self.precharge[..., None], self.exponent[..., None])


def _gas_yield(pressure: Array, volume: Array, precharge: Array, exponent: Array) -> Array:
    squeezed = precharge / pressure if np.all(exponent == 1.0) else (precharge / pressure) ** (1.0 / exponent)
    return volume / (exponent * pressure) * squeezed
