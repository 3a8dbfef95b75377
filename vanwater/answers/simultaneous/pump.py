"""Where the pump works while a set of outlets is open: its point, whether it cycles, what it draws."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from vanwater.answers.core.chatter import CHATTER, LEAST_CYCLE
from vanwater.answers.core.number import Number
from vanwater.answers.core.spread import UnsureRows
from vanwater.answers.core.working import Part, by, planned, stated
from vanwater.answers.simultaneous.rows import SetRows
from vanwater.physics.pump_power import current_at_rise
from vanwater.plan.pump import Pump
from vanwater.quantities import CHARGE, CURRENT, DURATION, FLOW, PRESSURE, PRESSURE_DIFFERENCE, SECONDS, VOLUME, Array
from vanwater.system.batch import Batch
from vanwater.system.pump import pump_curve
from vanwater.system.stores import moved, outlet_of

__all__ = ["IDLE", "PumpPoint", "middle", "pump_points"]

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
    rows : SetRows
        The solve.
    pump : str
        The pump.
    """

    rows: SetRows
    pump: str

    @property
    def known(self) -> Pump:
        """As it is planned."""
        return self.rows.plan.pumps[self.pump]

    @property
    def cycles(self) -> bool | None:
        """Whether the switch stops it while the set is open; None where no switch is decided."""
        return None if self.known.cut_out is None else bool(self.rows.cycling.cycles[self.pump][self.rows.first])

    @cached_property
    def cut_out(self) -> Number | None:
        """Pressure at which its switch stops it."""
        if self.known.cut_out is None:
            return None
        return planned(self.rows.plan, f"pumps.{self.pump}.cut_out", PRESSURE, 2)

    @cached_property
    def flow(self) -> Number:
        """What it gives."""
        runs = "is not decided" if self.cycles is None else "cycles" if self.cycles else "runs steadily"
        return self.rows.number(
            f"flow of {self.pump}",
            self.rows.along(self.rows.solved.flows.pump(self.pump)),
            FLOW,
            "What the pump brings while the outlets draw as in the mean of its cycle."
            if self.cycles
            else "Where the pump's curve at its volts meets what the whole network takes.",
            self.pump,
            "flow",
            facts=lambda: [
                ("pressure rise", self.rise),
                ("pressure behind it", self.discharge),
                *(() if self.cut_out is None else (("its switch stops it at", self.cut_out),)),
                ("so it", runs),
            ],
        )

    @cached_property
    def rise(self) -> Number:
        """Pressure rise against which it works."""
        start, end = self._ends
        return self.rows.number(
            f"pressure rise of {self.pump}",
            end - start,
            PRESSURE_DIFFERENCE,
            "Pressure behind the pump less that before it, in the whole network.",
            self.pump,
            "rise",
            parts=lambda: [("behind it", (end, PRESSURE)), ("before it", (-start, PRESSURE))],
        )

    @cached_property
    def discharge(self) -> Number:
        """Gauge pressure behind it."""
        return self.rows.number(
            f"pressure behind {self.pump}",
            self._ends[1],
            PRESSURE,
            "Gauge pressure in the whole network just behind the pump.",
            self.pump,
            "discharge_pressure",
            least=-np.inf,
        )

    @cached_property
    def crossing(self) -> Number:
        """Gauge pressure behind it at which it would run on, were there no switch."""
        return self.rows.number(
            f"pressure behind {self.pump}, were there no switch,",
            self.rows.along(self.rows.cycling.crossing[self.pump]),
            PRESSURE,
            "Where the pump's curve at its volts meets what the whole network takes.",
            self.pump,
            "crossing_pressure",
            least=-np.inf,
        )

    @cached_property
    def times(self) -> tuple[Number, Number] | None:
        """For how long it runs and rests in a cycle; None where it does not cycle or no cut-in is decided."""
        spent = self.rows.cycling.times.get(self.pump)
        if spent is None or np.isnan(self.rows.now(spent[0])):
            return None
        on, off = (
            stated(
                f"the {self.pump} {word} with {self.rows.name} open",
                self.rows.along(values),
                SECONDS,
                "Water between the switch pressures over what pump and outlets move then.",
                source="conservation of volume; Boyle's law",
            ).keyed("set", self.rows.name, self.pump, key, digits=2)
            for word, key, values in (("runs", "on", spent[0]), ("rests", "off", spent[1]))
        )
        return on, off

    @property
    def chatters(self) -> bool:
        """Whether it starts so often in a cycle, or on so little water, that motor and switch do not follow."""
        if self.times is None:
            return False
        on, off = (time.likely for time in self.times)
        flows = zip(self.rows.solved.network.outlets, self.rows.cycling.least[self.rows.first], strict=True)
        own = {outlet for outlet, way in self.rows.ways.items() if way.pump == self.pump}
        least = sum(float(flow) for outlet, flow in flows if outlet.name in own)
        return on + off < 1.0 / CHATTER or off * least < LEAST_CYCLE

    @property
    def _ends(self) -> tuple[Array, Array]:
        flows = self.rows.solved.flows
        pump = next(pump for pump in self.rows.solved.network.pumps if pump.name == self.pump)
        return self.rows.along(flows.at(pump.start)), self.rows.along(flows.at(pump.end))

    @cached_property
    def current(self) -> Number | None:
        """What it draws there; None where the plan tells no current. Less and more against no pressure is unsure."""
        if self.known.current is None:
            return None
        curve, rise = pump_curve(self.rows.batch, self.pump), self.rise.values
        usual = current_at_rise(rise, curve, self._currents(IDLE))
        low, high = (float(current_at_rise(rise, curve, self._currents(idle))[0]) for idle in IDLE_ENDS)
        values, place = self.rows.with_ends(usual, low, high)
        idle = UnsureRows("current against no pressure", f"pumps.{self.pump}.current", place, place + 1)

        def facts() -> Sequence[Part]:
            at_point = by(
                f"current of {self.pump} at its point",
                usual,
                CURRENT,
                current_at_rise,
                rise=self.rise,
                curve=curve,
                currents=self._currents(IDLE),
            )
            return [
                ("measured", planned(self.rows.plan, f"pumps.{self.pump}.current", CURRENT)),
                ("half way between the switch pressures", (middle(self.rows.batch, self.pump), PRESSURE)),
                ("by its curve", at_point),
            ]

        return stated(
            f"current of {self.pump} with {self.rows.name} open",
            values,
            CURRENT,
            "A straight line of the pressure: half the measured current against no pressure, the measured one half way "
            "between the switch pressures.",
            facts=facts,
            source="torque in proportion to current; 0.3 to 0.7 of the current against no pressure by common practice",
        ).keyed("set", self.rows.name, self.pump, "current", pairs=[*self.rows.unsure, idle], least=0.0, digits=2)

    @cached_property
    def drawn(self) -> Array:
        """Water that the uses at these outlets draw a day, run-off counted, along the rows [m³]."""
        batch = self.rows.batch
        volume = np.zeros(len(batch))
        for use, move in moved(batch).items():
            outlet = outlet_of(batch.plan, use)
            if outlet in self.rows.ways and self.rows.ways[outlet].pump == self.pump:
                each = move.each + move.starting + move.hot_content * move.waiting
                volume = volume + move.events * move.persons * each * 86400.0
        return volume

    @cached_property
    def running(self) -> Array:
        """Time that it runs for that water with the set open, along the rows [s]; NaN where it gives nothing."""
        flow = self.flow.values
        seconds: Array = np.divide(self.drawn, flow, out=np.full(flow.shape, np.nan), where=flow > 0.0)
        return seconds

    @cached_property
    def charge(self) -> Number | None:
        """What that takes from the battery a day; None where the current is not known."""
        current = self.current
        if current is None:
            return None
        running, _ = self.rows.with_ends(self.running, self.running[0], self.running[0])  # as the rows of the current
        return stated(
            f"charge that {self.pump} takes a day with {self.rows.name} open",
            running * current.values,
            CHARGE,
            "Its current over the time in which it gives the water that the uses at these outlets draw a day.",
            facts=lambda: [
                ("formula", "I V / Q"),
                ("current", current),
                ("water a day", (self.drawn, VOLUME)),
                ("flow", self.flow),
                ("time that it runs a day", (running, DURATION)),
            ],
            source="charge is current times time",
            note="As if all that water were drawn with the whole set open.",
        ).keyed("set", self.rows.name, self.pump, "charge", pairs=current.pairs, least=0.0, digits=2)

    def _currents(self, idle: float) -> Array:
        """Current at the points of its curve: a straight line of its pressure through the current that was measured.

        The measured one stands half way between the switch pressures, at the pressure that a speed control holds, and
        everywhere for a submersible pump, whose current hardly falls with its pressure.
        """
        batch = self.rows.batch
        rise = pump_curve(batch, self.pump).rise
        measured = batch.number(f"pumps.{self.pump}.current")[:, np.newaxis]
        if self.known.kind == "submersible":
            return np.asarray(measured * np.ones_like(rise), dtype=np.float64)
        return np.asarray(
            measured * (idle + (1.0 - idle) * rise / middle(batch, self.pump)[:, np.newaxis]), dtype=np.float64
        )


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
    return {pump: PumpPoint(rows, pump) for pump in dict.fromkeys(way.pump for way in rows.ways.values() if way.pump)}


def middle(batch: Batch, pump: str) -> Array:
    """Pressure half way between a pump's switch pressures, or what it holds; else of its curve, along the rows [Pa]."""
    curve = batch.plan.pumps[pump].curve
    assert curve is not None
    holds, cut_in, cut_out = (batch.number(f"pumps.{pump}.{field}") for field in ("holds", "cut_in", "cut_out"))
    ends = [np.where(end > 0.0, end, at) for end, at in ((cut_in, curve[-1][1]), (cut_out, curve[0][1]))]
    return np.where(np.isfinite(holds), holds, np.maximum(0.5 * (ends[0] + ends[1]), 1.0))
