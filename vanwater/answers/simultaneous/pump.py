"""Where the pump works while a set of outlets is open: its point, whether it cycles, what it draws."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from vanwater.answers.core.spread import UnsureRows, spread
from vanwater.answers.core.statement import Range
from vanwater.answers.simultaneous.rows import SetRows
from vanwater.physics.pump_power import current_at_rise
from vanwater.plan.pump import Pump
from vanwater.quantities import CURRENT, FLOW, PRESSURE_DIFFERENCE, Array
from vanwater.system.pump import pump_curve
from vanwater.system.stores import moved, outlet_of

__all__ = ["IDLE", "PumpPoint", "middle", "pump_currents", "pump_points"]

IDLE = 0.5
"""Current of a displacement pump against no pressure, as a share of that between its switch pressures (common
practice, from memory)."""
IDLE_ENDS = (0.3, 0.7)
"""Between which that share is taken to lie (common practice, from memory)."""


@dataclass(frozen=True, eq=False)
class PumpPoint:
    """One pump while a set is open.

    Parameters
    ----------
    pump : str
        The pump.
    flow, rise : Range
        Its operating point: what it gives, against which pressure rise.
    discharge : float
        Gauge pressure behind it [Pa].
    cut_out : float or None
        Pressure at which its switch stops it [Pa].
    current : Range or None
        What it draws there; None where the plan tells no current.
    rows : SetRows
        The solve.
    """

    pump: str
    flow: Range
    rise: Range
    discharge: float
    cut_out: float | None
    current: Range | None
    rows: SetRows

    @cached_property
    def drawn(self) -> float:
        """Water that the uses at these outlets draw a day, run-off counted [m³]."""
        return _drawn(self.rows, self.pump)

    @property
    def running(self) -> float:
        """Time that it runs for that water with the set open [s]; NaN where it gives nothing."""
        return self.drawn / self.flow.likely if self.flow.likely > 0.0 else float("nan")

    @property
    def charge(self) -> float:
        """What that takes from the battery a day [C]; NaN where the current or the flow is not known."""
        return self.running * self.current.likely if self.current is not None else float("nan")

    @property
    def cycles(self) -> bool | None:
        """Whether the switch stops it while the set is open; None where no switch is decided."""
        return None if self.cut_out is None else self.discharge > self.cut_out


def pump_points(rows: SetRows) -> dict[str, PumpPoint]:
    """The pumps behind a set of outlets.

    Parameters
    ----------
    rows : SetRows
        The set.

    Returns
    -------
    dict of str to PumpPoint
        By pump; empty where gravity drives the water.
    """
    return {pump: _point(rows, pump) for pump in dict.fromkeys(way.pump for way in rows.ways.values() if way.pump)}


def _point(rows: SetRows, pump: str) -> PumpPoint:
    flows, known = rows.solved.flows, rows.plan.pumps[pump]
    piece = next(one for one in rows.solved.network.pumps if one.name == pump)
    flow = rows.along(flows.pump(pump))
    rise = rows.along(flows.at(piece.end) - flows.at(piece.start))
    ranges = spread(np.stack([flow, rise], axis=-1), rows.unsure, 0.0)
    current = None if known.current is None else _current(rows, pump, rise)
    return PumpPoint(
        pump,
        ranges.at(0).range(FLOW),
        ranges.at(1).range(PRESSURE_DIFFERENCE),
        rows.now(flows.at(piece.end)),
        known.cut_out,
        current,
        rows,
    )


def _current(rows: SetRows, pump: str, rise: Array) -> Range:
    """Current along the rows, and with less and more of it against no pressure."""
    every = current_at_rise(rise, pump_curve(rows.batch, pump), pump_currents(rows, pump))
    ends = [
        current_at_rise(rise, pump_curve(rows.batch, pump), pump_currents(rows, pump, idle))[:1] for idle in IDLE_ENDS
    ]
    idle = UnsureRows("current against no pressure", f"pumps.{pump}.current", len(every), len(every) + 1)
    return spread(np.concatenate([every, *ends]), [*rows.unsure, idle], 0.0).range(CURRENT, 2)


def pump_currents(rows: SetRows, pump: str, idle: float = IDLE) -> Array:
    """Current at the points of a pump's curve: a straight line of its pressure through the current that was measured.

    Parameters
    ----------
    rows : SetRows
        The set.
    pump : str
        A pump whose current is decided.
    idle : float
        Current against no pressure, as a share of the measured one [-].

    Returns
    -------
    array, shape (rows, points)
        Current; the measured one stands half way between the switch pressures, at the pressure that a speed control
        holds, and everywhere for a submersible pump, whose current hardly falls with its pressure [A].
    """
    measured = rows.batch.number(f"pumps.{pump}.current")[:, np.newaxis]
    if rows.plan.pumps[pump].kind == "submersible":
        return np.asarray(measured * np.ones_like(pump_curve(rows.batch, pump).rise), dtype=np.float64)
    share = pump_curve(rows.batch, pump).rise / middle(rows.plan.pumps[pump])
    return np.asarray(measured * (idle + (1.0 - idle) * share), dtype=np.float64)


def middle(pump: Pump) -> float:
    """Pressure half way between a pump's switch pressures, or what it holds; else of its curve [Pa]."""
    assert pump.curve is not None
    if pump.holds is not None:
        return pump.holds
    return max(0.5 * ((pump.cut_in or pump.curve[-1][1]) + (pump.cut_out or pump.curve[0][1])), 1.0)


def _drawn(rows: SetRows, pump: str) -> float:
    batch, total = rows.batch, 0.0
    for use, move in moved(batch).items():
        outlet = outlet_of(batch.plan, use)
        if outlet in rows.ways and rows.ways[outlet].pump == pump:
            each = move.each[0] + move.hot_content[0] * move.waiting[0]
            total += float(move.events[0] * move.persons[0] * each) * 86400.0
    return total
