"""Where the pressure goes with several outlets open, from the pump to one of them, and how fast the water runs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from vanwater.answers.outlets.outlet import Piece
from vanwater.answers.simultaneous.rows import SetRows
from vanwater.system.thermostat import thermostatic

__all__ = ["Fastest", "Pieces", "fastest_run", "set_budget"]


@dataclass(frozen=True, slots=True)
class Fastest:
    """Where the water runs fastest on the way to an outlet.

    Parameters
    ----------
    run : str
        The run.
    speed : float
        Mean speed in it [m/s].
    each : tuple of (str, float)
        All runs on the way in the order of the flow, with their speeds [m/s].
    """

    run: str
    speed: float
    each: tuple[tuple[str, float], ...]


@dataclass(frozen=True, slots=True)
class Pieces:
    """The pressure budget of one outlet of a set.

    Parameters
    ----------
    outlet : str
        The outlet.
    rise : float
        What drives the water: the pump's rise, and the pressure at the source where there is one [Pa].
    pieces : tuple of Piece
        What takes it, in the order of the flow: each run, its fittings, the lift, the outlet; they add up to the rise.
    residual : float
        What they fail to add up to [Pa].
    """

    outlet: str
    rise: float
    pieces: tuple[Piece, ...]
    residual: float

    @property
    def largest_first(self) -> tuple[Piece, ...]:
        """The pieces by what they take."""
        return tuple(sorted(self.pieces, key=lambda piece: -piece.loss))


def set_budget(rows: SetRows, outlet: str) -> Pieces:
    """Where the pressure goes on the way to one outlet of a set.

    Parameters
    ----------
    rows : SetRows
        The set.
    outlet : str
        One of its outlets.

    Returns
    -------
    Pieces
        Behind a mixing tap along the side that stands wide open: the other one's rest is taken by the tap.
    """
    way, flows = rows.ways[outlet], rows.solved.flows
    runs = _path(rows, outlet)
    rise = rows.now(flows.at(way.tank))
    if way.pump:
        pump = next(one for one in rows.solved.network.pumps if one.name == way.pump)
        rise += rows.now(flows.at(pump.end)) - rows.now(flows.at(pump.start))
    pieces = [piece for run in runs for piece in _run_pieces(rows, run)]
    if thermostatic(rows.plan, way.mixer):
        side = "hot" if set(way.hot) & set(runs) else "cold"
        through = rows.now(flows.at(f"{way.mixer} {side}")) - rows.now(flows.at(way.mixer))
        pieces.append(Piece(way.mixer, "valve", f"mixers.{way.mixer}", through))
    lift = sum(rows.now(rows.solved.lift(run)) for run in runs)
    pieces.append(Piece("lift", "lift", f"outlets.{outlet}.z", lift))
    pieces.append(Piece(outlet, "outlet", f"outlets.{outlet}", rows.now(flows.at(outlet))))
    return Pieces(outlet, rise, tuple(pieces), abs(rise - sum(piece.loss for piece in pieces)))


def fastest_run(rows: SetRows, outlet: str) -> Fastest:
    """How fast the water runs on the way to one outlet of a set.

    Parameters
    ----------
    rows : SetRows
        The set.
    outlet : str
        One of its outlets.

    Returns
    -------
    Fastest
        In the plan's own row.
    """
    each = tuple((run, rows.now(rows.solved.speed(run))) for run in rows.ways[outlet].runs)
    return Fastest(*max(each, key=lambda pair: pair[1]), each)


def _path(rows: SetRows, outlet: str) -> tuple[str, ...]:
    """The runs from tank to outlet, of hot and cold the side that stands wide open."""
    way, flows = rows.ways[outlet], rows.solved.flows
    if not way.mixer:
        return way.runs
    hot, cold = (rows.now(flows.at(f"{way.mixer} {side}")) for side in ("hot", "cold"))
    mixer = [one.name for one in rows.solved.network.mixers].index(way.mixer)
    share = float(rows.solved.numbers["hot_share"][rows.first, mixer])
    leads = (hot <= cold and share > 0.0) or share >= 1.0
    return (*way.suction, *way.trunk, *(way.hot if leads else way.cold), *way.mixed)


def _run_pieces(rows: SetRows, run: str) -> Iterator[Piece]:
    """A run's wall and its fittings apart."""
    solved, planned = rows.solved, rows.plan.runs[run]
    total = rows.now(solved.loss(run))
    if not (any(planned.fittings.values()) or planned.k):
        yield Piece(run, "run", f"runs.{run}", total)
        return
    k, density, speed = (
        rows.now(values)
        for values in (solved.of_run("loss_coefficient", run), solved.of_run("density", run), solved.speed(run))
    )
    small = 0.5 * k * density * speed**2 * np.sign(rows.now(solved.flows.run(run)))
    straight = (planned.length or 0.0) / max(rows.now(solved.of_run("length", run)), 1e-12)
    wall = (total - small) * min(straight, 1.0)
    yield Piece(run, "run", f"runs.{run}", wall)
    yield Piece(f"fittings of the {run}", "fittings", f"runs.{run}.fittings", total - wall)
