"""What drives the water, as arrays along the rows: the curve of every kind of pump, the pressure of the mains."""

from __future__ import annotations

import numpy as np

from vanwater.physics.pump import PumpCurve
from vanwater.physics.pump_kinds import centrifugal_curve, fixed_flow_curve, held_curve, stroke_flow
from vanwater.plan.model import Plan
from vanwater.plan.pump import BY_HAND, SWITCHED, Pump
from vanwater.quantities import Array
from vanwater.system.batch import Batch

__all__ = ["mains_pressure", "pump_curve", "pump_gaps", "rest_pressure", "starts_from"]


def pump_gaps(pump: Pump) -> tuple[str, ...]:
    """Fields that must be decided before the flow of a pump can be known.

    Parameters
    ----------
    pump : Pump
        The pump.

    Returns
    -------
    tuple of str
        Names of fields, by its kind; empty when everything is there.
    """
    needed: tuple[str, ...] = ("stroke", "strokes", "stall", "z") if pump.kind in BY_HAND else ("curve", "z")
    if pump.kind == "speed-controlled":
        needed = ("curve", "holds", "z")
    if pump.kind == "submersible":
        needed = ("curve",)
    return tuple(field for field in needed if getattr(pump, field) is None)


def pump_curve(batch: Batch, pump: str) -> PumpCurve:
    """The curve of a pump at the volts that reach it, along the rows.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    pump : str
        A pump that lacks nothing of :func:`pump_gaps`.

    Returns
    -------
    PumpCurve
        At the volts of the curve where none are said; the same object at every call.
    """
    return batch.once(f"pump {pump}", lambda: _pump_curve(batch, pump))


def _pump_curve(batch: Batch, pump: str) -> PumpCurve:
    planned, at = batch.plan.pumps[pump], f"pumps.{pump}"
    strength = batch.factor("pumps")
    if planned.kind in BY_HAND:
        flow = stroke_flow(batch.number(f"{at}.stroke"), batch.number(f"{at}.strokes")) * strength
        return fixed_flow_curve(flow, batch.number(f"{at}.stall"))
    assert planned.curve is not None
    points = np.array(planned.curve)
    rated = batch.number(f"{at}.curve_volts")
    volts = batch.number(f"{at}.volts")
    volts = np.where(np.isnan(volts), rated, volts)
    flow, rise = points[:, 0] * np.ones((len(batch), 1)), points[:, 1] * strength[:, np.newaxis]
    if planned.kind == "submersible":
        return centrifugal_curve(flow, rise, volts, rated)
    full = PumpCurve(flow, rise, volts, rated)
    return held_curve(full, batch.number(f"{at}.holds")) if planned.kind == "speed-controlled" else full


def starts_from(plan: Plan, pump: str, outlet: str) -> bool | None:
    """Whether a pump runs when an outlet is opened.

    Parameters
    ----------
    plan : Plan
        The plan.
    pump : str
        The pump.
    outlet : str
        An outlet behind it.

    Returns
    -------
    bool or None
        True but for a submersible pump, which runs by the outlet's micro-switch; None where that is not decided.
    """
    return plan.outlets[outlet].micro_switch if plan.pumps[pump].kind == "submersible" else True


def rest_pressure(pump: Pump) -> float | None:
    """Pressure in the line behind a pump while every tap is shut.

    Parameters
    ----------
    pump : Pump
        The pump.

    Returns
    -------
    float or None
        Its cut-out, or what its speed control holds; none behind the others, which run with an open tap only [Pa].
        None where it is not decided.
    """
    if pump.kind in SWITCHED:
        return pump.cut_out
    return pump.holds if pump.kind == "speed-controlled" else 0.0


def mains_pressure(batch: Batch, inlet: str) -> Array:
    """Pressure behind a mains inlet, along the rows.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    inlet : str
        The inlet.

    Returns
    -------
    array, shape (rows,)
        That of the campsite's tap, half way between its least and its most times the factor "mains"; what the
        regulator is set to where that is less [Pa].
    """
    at = f"mains.{inlet}"
    tap = 0.5 * (batch.number(f"{at}.lowest") + batch.number(f"{at}.highest")) * batch.factor("mains")
    return np.minimum(tap, batch.number(f"{at}.regulator", np.inf))
