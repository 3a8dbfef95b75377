"""The numbers of a network, one row a case or a design."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace

import numpy as np
import numpy.typing as npt

from vanwater.physics.friction import SMOOTH_PLASTIC
from vanwater.physics.network.structure import Network
from vanwater.quantities import (
    Array,
    Bore,
    Density,
    Flow,
    Length,
    OutletConstant,
    Pressure,
    Ratio,
    Real,
    Roughness,
    Share,
    Viscosity,
)

__all__ = ["NetworkInputs"]


@dataclass(frozen=True, eq=False, kw_only=True)
class NetworkInputs:
    """The numbers of every piece, each shaped (rows, pieces of that kind) or anything that broadcasts to it.

    Parameters
    ----------
    elevation : float or array
        Height of each node above the van's floor [m].
    length : float or array
        Length of each run [m].
    bore : float or array
        Inside diameter of each run [m].
    density : float or array
        Density of the water in each run [kg/m³].
    viscosity : float or array
        Dynamic viscosity of the water in each run [Pa·s].
    source_pressure : float or array
        Gauge pressure at each source's node: the column up to the tank's surface, or the regulator's setting [Pa].
    outlet_constant : float or array
        Constant of each fully open outlet, k of Q = k √p [m³/(s·√Pa)].
    loss_coefficient : float or array
        Sum of the K of the fittings of each run, on its own bore [-].
    roughness : float or array
        Roughness of each run's wall [m].
    friction_multiplier : float or array
        Friction of each run against a straight one with its roughness: corrugated or coiled hose above 1, none
        below it [-].
    shut : array of bool
        Runs shut by a valve.
    outlet_limit : float or array
        Flow at which each outlet's regulator holds it; infinite without one [m³/s].
    openness : float or array
        Share of the constant that stands open: 0 shut, 1 open [-].
    pump_flow : array
        Flow at the points of each pump's curve, shape (rows, pumps, points), not falling; points may be
        repeated to fill up [m³/s].
    pump_rise : array
        Pressure rise across the pump at each point, not rising; the last line goes on beyond it [Pa].
    pump_quadratic : float or array
        Fall of each pump's rise with the square of the flow, besides the points: r of a centrifugal pump
        p₀ − r Q², with p₀ at its two points [Pa·s²/m⁶].
    hot_share : float or array
        Hot share of each mixer's flow [-].
    mixer_constant : float or array
        Constant of each thermostatic mixer with one port wide open, k of Q = k √Δp [m³/(s·√Pa)]. A hand mixer's
        own loss belongs to the K of its two runs.

    Notes
    -----
    Density and viscosity stand for the water's temperature in each run, so that hot and cold differ.
    """

    elevation: Length[Real]
    length: Length[Real]
    bore: Bore[Real]
    density: Density[Real]
    viscosity: Viscosity[Real]
    source_pressure: Pressure[Real]
    outlet_constant: OutletConstant[Real]
    loss_coefficient: Ratio[Real] = 0.0
    roughness: Roughness[Real] = SMOOTH_PLASTIC
    friction_multiplier: Ratio[Real] = 1.0
    shut: npt.NDArray[np.bool_] | bool = False
    outlet_limit: Flow[Real] = np.inf
    openness: Share[Real] = 1.0
    pump_flow: Flow[Array] | None = None
    pump_rise: Pressure[Array] | None = None
    pump_quadratic: Real = 0.0
    hot_share: Share[Real] = 0.5
    mixer_constant: OutletConstant[Real] = np.inf

    def shaped(self, network: Network) -> dict[str, Array]:
        """Every number as an array of shape (1 or rows, pieces), checked.

        Raises
        ------
        ValueError
            When a shape does not fit the structure or a number cannot be, with the name of the piece.
        """
        kinds = _kinds(network)
        arrays: dict[str, Array] = {}
        for each in fields(self):
            value = getattr(self, each.name)
            names = kinds[each.name]
            array = np.asarray(0.0 if value is None else value, dtype=np.float64)
            if each.name in ("pump_flow", "pump_rise"):
                if value is None and names:
                    raise ValueError(f"{each.name} is missing; expected the points of pump {names[0]!r}.")
                array = array.reshape((1, 1, 1)) if value is None else array
                arrays[each.name] = _spread(each.name, array, (len(names), array.shape[-1]), 3)
            else:
                arrays[each.name] = _spread(each.name, array, (len(names),), 2)
        if len({arrays["pump_flow"].shape[-1], arrays["pump_rise"].shape[-1]}) > 1:
            raise ValueError("pump_flow and pump_rise differ in their count of points.")
        counts = {array.shape[0] for array in arrays.values()} - {1}
        if len(counts) > 1:
            raise ValueError(f"the arrays have {' and '.join(map(str, sorted(counts)))} rows; expected one count.")
        _check(arrays, kinds, network)
        return arrays

    def taken(self, rows: npt.NDArray[np.intp] | slice) -> NetworkInputs:
        """The same numbers for some of the rows; those given once for all stay as they are."""
        changed = {}
        for each in fields(self):
            value = getattr(self, each.name)
            need = 3 if each.name in ("pump_flow", "pump_rise") else 2
            if isinstance(value, np.ndarray) and value.ndim == need and value.shape[0] > 1:
                changed[each.name] = value[rows]
        return replace(self, **changed)


def _kinds(network: Network) -> dict[str, tuple[str, ...]]:
    """Names of the pieces that each array counts."""
    runs = tuple(run.name for run in network.runs)
    pumps = tuple(pump.name for pump in network.pumps)
    outlets = tuple(outlet.name for outlet in network.outlets)
    mixers = tuple(mixer.name for mixer in network.mixers)
    of_runs = ("length", "bore", "density", "viscosity", "loss_coefficient", "roughness", "friction_multiplier", "shut")
    return {
        "elevation": network.nodes,
        "source_pressure": tuple(source.name for source in network.sources),
        **dict.fromkeys(of_runs, runs),
        **dict.fromkeys(("pump_flow", "pump_rise", "pump_quadratic"), pumps),
        **dict.fromkeys(("outlet_constant", "outlet_limit", "openness"), outlets),
        **dict.fromkeys(("hot_share", "mixer_constant"), mixers),
    }


def _spread(name: str, array: Array, pieces: tuple[int, ...], dimensions: int) -> Array:
    if array.ndim > dimensions:
        raise ValueError(f"{name} has shape {array.shape}; expected rows and {pieces[0]} pieces.")
    if array.ndim == dimensions and array.shape[1:] == pieces:
        return array
    rows = array.shape[0] if array.ndim == dimensions else 1
    try:
        return np.broadcast_to(array, (rows, *pieces))
    except ValueError:
        raise ValueError(f"{name} has shape {array.shape}; expected (rows, {pieces[0]}) or less.") from None


_ABOVE_ZERO = ("bore", "density", "viscosity", "mixer_constant")
_NOT_NEGATIVE = (
    "length",
    "loss_coefficient",
    "roughness",
    "outlet_constant",
    "outlet_limit",
    "pump_quadratic",
)
_MAY_BE_INFINITE = ("outlet_limit", "mixer_constant")


def _check(arrays: dict[str, Array], kinds: dict[str, tuple[str, ...]], network: Network) -> None:
    """Refuse numbers that cannot be."""
    for name, array in arrays.items():
        if not array.size:
            continue
        least, most = array.min(), array.max()  # NaN goes through both
        if name not in _MAY_BE_INFINITE and not -np.inf < least <= most < np.inf:
            _refuse(array, np.isfinite(array), name, kinds[name], "a finite number")
        if name in _ABOVE_ZERO and not least > 0.0:
            _refuse(array, array > 0.0, name, kinds[name], "above zero")
        if name in _NOT_NEGATIVE and not least >= 0.0:
            _refuse(array, array >= 0.0, name, kinds[name], "zero or above")
        if name == "friction_multiplier" and not least >= 1.0:
            _refuse(array, array >= 1.0, name, kinds[name], "1 or above")
        if name in ("openness", "hot_share") and not 0.0 <= least <= most <= 1.0:
            _refuse(array, (array >= 0.0) & (array <= 1.0), name, kinds[name], "from 0 to 1")
    _check_curves(arrays["pump_flow"], arrays["pump_rise"], kinds["pump_flow"])
    _check_heights(arrays["elevation"], network)


def _check_curves(flow: Array, rise: Array, pumps: tuple[str, ...]) -> None:
    flow, rise = np.broadcast_arrays(flow, rise)
    along, up = np.diff(flow, axis=-1), np.diff(rise, axis=-1)
    _refuse(along, along >= 0.0, "pump_flow: the step along the curve", pumps, "flows that rise from point to point")
    _refuse(up, up <= 0.0, "pump_rise: the step along the curve", pumps, "a rise that never grows with the flow")
    _refuse(up, (along > 0.0) | (up == 0.0), "pump_rise: the step at one flow", pumps, "one rise at each flow")
    if along.shape[-1]:
        first = along[..., :1]
        _refuse(first, first > 0.0, "pump_flow: the first step", pumps, "two different points to begin with")


def _check_heights(height: Array, network: Network) -> None:
    at = {node: index for index, node in enumerate(network.nodes)}
    pieces: list[tuple[str, str, tuple[str, ...]]]
    pieces = [("pump", pump.name, (pump.start, pump.end)) for pump in network.pumps]
    pieces += [("mixer", mixer.name, (mixer.hot, mixer.cold, mixer.mixed)) for mixer in network.mixers]
    for kind, name, ends in pieces:
        if np.ptp(height[:, [at[end] for end in ends]], axis=1).max() > 1e-9:
            raise ValueError(f"the nodes of {kind} {name!r} differ in elevation; expected one height.")


def _refuse(array: Array, sound: npt.NDArray[np.bool_], name: str, pieces: tuple[str, ...], expected: str) -> None:
    if not sound.all():
        row, piece, *_ = np.argwhere(~sound)[0]
        value = array[tuple(np.argwhere(~sound)[0])]
        raise ValueError(f"{name} of {pieces[piece]!r} is {value:g} in row {row}; expected {expected}.")
