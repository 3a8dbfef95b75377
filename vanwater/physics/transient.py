"""Pressure and flow over time behind a pump with a pressure switch while outlets open and close.

Between two switchings dW/dt = Q_pump(p) − Σ Q(p) goes one way only, towards the switch or towards a balance; switch
times are found in closed form, without steps in time.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
import numpy.typing as npt

from vanwater.physics._legs import integral
from vanwater.physics.circuit import Circuit
from vanwater.quantities import Array, Flow, Pressure, Seconds, Share, Volume

__all__ = ["Transient", "follow"]

POINTS, LEAST = 2500, 6
"""Points that cycles alike are told by in all, and in each half of one at least."""


@dataclass(frozen=True, eq=False, kw_only=True)
class Transient:
    """What happened over time; at a switching two points share one time.

    Parameters
    ----------
    time : array
        Times, not falling, shape (points,) [s].
    pressure : array
        Gauge pressure where the water is held [Pa].
    water : array
        Water held there, none at no pressure [m³].
    pump_flow : array
        Flow of the pump [m³/s].
    outlet_flow : array
        Flow of each outlet, shape (outlets, points) [m³/s].
    opened : array of int
        Which set of outlets is open.
    running : array of bool
        Whether the pump runs.
    starts, stops : array
        Times at which the pump started and stopped [s].
    pumped : float
        Water that the pump moved [m³].
    drawn : array
        Water that each outlet gave, shape (outlets,) [m³].
    """

    time: Seconds[Array]
    pressure: Pressure[Array]
    water: Volume[Array]
    pump_flow: Flow[Array]
    outlet_flow: Flow[Array]
    opened: npt.NDArray[np.intp]
    running: npt.NDArray[np.bool_]
    starts: Seconds[Array]
    stops: Seconds[Array]
    pumped: Volume[float]
    drawn: Volume[Array]


def follow(
    circuit: Circuit, begin: Sequence[float], opened: Sequence[int], until: Seconds[float], charge: Share[float] = 1.0
) -> Transient:
    """Follow pressure and flow while sets of outlets open one after the other.

    Formula: dW/dt = Q_pump(p) − Σ Q(p)

    Parameters
    ----------
    circuit : Circuit
        Curves, and what holds the water W at a pressure p.
    begin : sequence of float
        Times in seconds from which each set is open, the first at the start, rising.
    opened : sequence of int
        The sets.
    until : float
        Time to follow them to [s].
    charge : float
        Share of the water between the switch's two pressures that is there at the start, with the pump at rest [-].

    Returns
    -------
    Transient
        Points on the way, switchings, and the water moved.

    Raises
    ------
    ValueError
        When times do not rise, a set does not exist, or the charge is outside 0 to 1.

    Notes
    -----
    Outlets open and close at once, and flows follow the pressure at every moment: the water's inertia settles
    within a tenth of a second in a van's runs. Cycles alike are worked out once.

    References
    ----------
    Conservation of volume with Boyle's law; straight pieces of curve give exponentials.

    Examples
    --------
    >>> from vanwater.physics.circuit import Curves
    >>> from vanwater.physics.switching import ElasticStorage
    >>> grid = np.array([0.0, 1e5, 2e5, 3e5])
    >>> tap = np.stack([np.zeros((1, 4)), np.full((1, 4), 5e-5)])
    >>> pump = np.tile([2e-4, 1.4e-4, 8e-5, 0.0], (2, 1))
    >>> curves = Curves(grid, pump, tap, tap, np.full(2, 1.2e5), np.full(2, 2e5))
    >>> circuit = Circuit(curves, ElasticStorage(1e-3, 1e5, 101325.0, 6e-11))
    >>> seen = follow(circuit, [0.0, 5.0], [0, 1], 60.0)
    >>> len(seen.starts), round(float(seen.starts[0]), 2)
    (6, 9.93)
    """
    _check(circuit, begin, opened, until, charge)
    run = _Run(circuit, opened[0], charge)
    for index, ends in zip(opened, [*begin[1:], until], strict=True):
        run.open(index, float(ends))
    return run.told()


@dataclass(frozen=True, slots=True, eq=False)
class _Part:
    """The points of one leg, its time begun anew, and how often it comes."""

    time: Array
    water: Array
    state: int
    often: int = 1

    def thinned(self, most: int) -> _Part:
        """So many points at most, the ends among them."""
        if self.time.size <= most:
            return self
        kept = np.linspace(0, self.time.size - 1, most).astype(np.intp)
        return replace(self, time=self.time[kept], water=self.water[kept])


class _Run:
    """The state on the way, and the points left behind."""

    def __init__(self, circuit: Circuit, first: int, charge: float) -> None:
        self.circuit = circuit
        self.level = circuit.start[first] + charge * (circuit.stop[first] - circuit.start[first])
        self.running, self.now = False, 0.0
        self.starts: list[float] = []
        self.stops: list[float] = []
        self.times: list[Array] = []
        self.waters: list[Array] = []
        self.states: list[tuple[int, int]] = []
        self.parts: list[_Part] = []
        self.cycles: dict[int, tuple[_Part, _Part] | None] = {}

    def open(self, index: int, ends: float) -> None:
        """Let one set of outlets be open until a time."""
        low, high = self.circuit.start[index], self.circuit.stop[index]
        while True:
            if self.running and self.level >= high:
                self.running = False
                self.stops.append(self.now)
            elif not self.running and self.level <= low:
                self.running = True
                self.starts.append(self.now)
                if self.level == low:
                    self._repeat(index, ends)
            if self.now >= ends:
                return
            state = index + self.circuit.sets * self.running
            leg = self.circuit.legs[state]
            moved = leg.to(high if self.running else low, self.level, ends - self.now)
            after = ends if moved.spent >= ends - self.now else self.now + moved.spent
            part = _Part(
                np.concatenate([[0.0], moved.time, [after - self.now]]),
                np.concatenate([[self.level], moved.water, [moved.end]]),
                state,
            )
            self.parts.append(part)
            self._leave(part, self.now + part.time, after)
            self.now, self.level = after, moved.end

    def _leave(self, part: _Part, times: Array, after: float) -> None:
        times[-1] = after  # to the last digit, so that the next leg begins where this one ends
        self.times.append(times)
        self.waters.append(part.water)
        self.states.append((part.state, part.time.size))

    def _repeat(self, index: int, ends: float) -> None:
        """Whole cycles that fit in are alike: lay one beside the other, the more the fewer points."""
        if index not in self.cycles:
            self.cycles[index] = self._cycle(index)
        cycle = self.cycles[index]
        if cycle is None:
            return
        on, off = (part.time[-1] for part in cycle)
        count = int((ends - self.now) / (on + off))
        if count < 1:
            return
        self.parts += [replace(part, often=count) for part in cycle]
        up, down = (part.thinned(max(POINTS // count, LEAST)) for part in cycle)
        begins = self.now + (on + off) * np.arange(count + 1)
        time = np.concatenate([up.time, on + down.time])
        times = begins[:-1, np.newaxis] + time
        times[:, -1] = begins[1:]
        self.times.append(times.ravel())
        self.waters.append(np.tile(np.concatenate([up.water, down.water]), count))
        self.states += [(up.state, up.time.size), (down.state, down.time.size)] * count
        self.stops += (begins[:-1] + on).tolist()
        self.starts += begins[1:].tolist()
        self.now = float(begins[-1])

    def _cycle(self, index: int) -> tuple[_Part, _Part] | None:
        c = self.circuit
        low, high = c.start[index], c.stop[index]
        run, rest = c.legs[index + c.sets], c.legs[index]
        if not (run.rate(high) > 0.0 and rest.rate(low) < 0.0):
            return None
        up, down = run.to(high, low, np.inf), rest.to(low, high, np.inf)
        ends = ((up, low, high, index + c.sets), (down, high, low, index))
        rising, falling = (
            _Part(np.concatenate([[0.0], way.time, [way.spent]]), np.concatenate([[first], way.water, [last]]), state)
            for way, first, last, state in ends
        )
        return rising, falling

    def told(self) -> Transient:
        """Put the points side by side, and the water moved between them."""
        c = self.circuit
        time, water = np.maximum.accumulate(np.concatenate(self.times)), np.concatenate(self.waters)
        state = np.repeat([number for number, _ in self.states], [points for _, points in self.states])
        pump, flow = self._read(state, water, water)[:2]
        pumped, drawn = self._moved()
        return Transient(
            time=time,
            pressure=c.pressure_of(water),
            water=water,
            pump_flow=pump,
            outlet_flow=flow,
            opened=state % c.sets,
            running=state >= c.sets,
            starts=np.array(self.starts),
            stops=np.array(self.stops),
            pumped=pumped,
            drawn=drawn,
        )

    def _moved(self) -> tuple[float, Array]:
        """Water that the pump and each outlet moved, leg by leg and piece by piece."""
        sizes = [part.time.size - 1 for part in self.parts]
        of, often = (np.repeat([getattr(part, name) for part in self.parts], sizes) for name in ("state", "often"))
        taken = np.concatenate([np.diff(part.time) for part in self.parts])
        first = np.concatenate([part.water[:-1] for part in self.parts])
        last = np.concatenate([part.water[1:] for part in self.parts])
        pumped, drawn, pump_slope, flow_slope = self._read(of, first, 0.5 * (first + last))
        rate, steep = pumped - drawn.sum(axis=0), pump_slope - flow_slope.sum(axis=0)
        moved = often * integral(pumped, pump_slope, rate, steep, taken)
        return float(np.sum(moved)), np.sum(often * integral(drawn, flow_slope, rate, steep, taken), axis=-1)

    def _read(self, state: npt.NDArray[np.intp], water: Array, where: Array) -> tuple[Array, Array, Array, Array]:
        """Flows of pump and outlets at some water, and their slopes, on the piece in which another water lies."""
        c = self.circuit
        piece = np.clip(np.searchsorted(c.water, where, side="right") - 1, 0, c.water.size - 2)
        step, off = c.water[piece + 1] - c.water[piece], water - c.water[piece]
        pump, flow = c.pump[state, piece], c.flow[state, :, piece].T
        pump_slope = (c.pump[state, piece + 1] - pump) / step
        flow_slope = (c.flow[state, :, piece + 1].T - flow) / step
        return pump + pump_slope * off, flow + flow_slope * off, pump_slope, flow_slope


def _check(circuit: Circuit, begin: Sequence[float], opened: Sequence[int], until: float, charge: float) -> None:
    if len(begin) != len(opened) or not begin or begin[0] != 0.0:
        raise ValueError("begin, opened: expected a time for each set, the first at 0 s.")
    if np.any(np.diff([*begin, until]) <= 0.0):
        raise ValueError("begin: expected times that rise and lie before the end.")
    if not all(0 <= index < circuit.sets for index in opened):
        raise ValueError(f"opened: expected sets from 0 to {circuit.sets - 1}.")
    if not 0.0 <= charge <= 1.0:
        raise ValueError(f"charge: {charge:g}, expected 0 to 1.")
