"""Where the pressure goes with several outlets open, from the pump to one of them, and how fast the water runs."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
import numpy.typing as npt

from vanwater.answers.core.number import Number
from vanwater.answers.core.working import by, planned, stated
from vanwater.answers.outlets.outlet import BERNOULLI, BudgetPiece
from vanwater.answers.simultaneous.rows import SetRows
from vanwater.physics.friction import velocity
from vanwater.quantities import LENGTH, PRESSURE_DIFFERENCE, RATIO, SHARE, SPEED, Array
from vanwater.system.thermostat import thermostatic
from vanwater.system.ways import Way

__all__ = ["Fastest", "SetBudget", "fastest_run", "set_budget", "share_of"]


@dataclass(frozen=True, slots=True, eq=False)
class Fastest:
    """Where the water runs fastest on the way to an outlet.

    Parameters
    ----------
    run : str
        The run.
    speed : Number
        Greatest mean speed on the way.
    """

    run: str
    speed: Number


@dataclass(frozen=True, slots=True, eq=False)
class SetBudget:
    """The pressure budget of one outlet of a set.

    Parameters
    ----------
    outlet : str
        The outlet.
    rise : Number
        What drives the water: the pump's rise, and the pressure at the source where there is one.
    pieces : tuple of BudgetPiece
        What takes it, in the order of the flow: each run, its fittings, the lift, the outlet; they add up to the rise.
    left : Number
        What the pieces and the solve fail to add up to.
    """

    outlet: str
    rise: Number
    pieces: tuple[BudgetPiece, ...]
    left: Number

    @property
    def largest_first(self) -> tuple[BudgetPiece, ...]:
        """The pieces, the greatest loss first."""
        return tuple(sorted(self.pieces, key=lambda piece: -piece.loss.likely))


def set_budget(rows: SetRows, outlet: str, pressure: Number) -> SetBudget:
    """Where the pressure goes on the way to one outlet of a set.

    Parameters
    ----------
    rows : SetRows
        The set.
    outlet : str
        One of its outlets.
    pressure : Number
        Pressure before it.

    Returns
    -------
    SetBudget
        Behind a mixing tap along the side that stands wide open: the other one's rest is taken by the tap.
    """
    way, flows = rows.ways[outlet], rows.solved.flows
    leads = _hot_leads(rows, way)
    runs = (*way.suction, *way.trunk, *(way.hot if leads[0] else way.cold), *way.mixed)
    drive = rows.along(flows.at(way.tank))
    if way.pump:
        pump = next(pump for pump in rows.solved.network.pumps if pump.name == way.pump)
        drive = drive + rows.along(flows.at(pump.end)) - rows.along(flows.at(pump.start))
    pieces = [piece for run in runs for piece in _run_pieces(rows, run)]
    if thermostatic(rows.plan, way.mixer):
        side = "hot" if set(way.hot) & set(runs) else "cold"
        through = rows.number(
            f"loss of the {way.mixer}",
            rows.along(flows.at(f"{way.mixer} {side}") - flows.at(way.mixer)),
            PRESSURE_DIFFERENCE,
            "Pressure in the whole network before the port that leads, less that behind the valve.",
            way.mixer,
            "loss",
        )
        pieces.append(BudgetPiece(way.mixer, "valve", through))
    lift = rows.number(
        f"lift to the {outlet}",
        _lift(rows, way, leads),
        PRESSURE_DIFFERENCE,
        "The weight of the water in each run over its rise, added up along the way.",
        outlet,
        "lift",
        facts=lambda: [(run, (rows.along(rows.solved.lift(run)), PRESSURE_DIFFERENCE)) for run in runs],
        source="hydrostatics",
        least=-np.inf,
    )
    pieces += [BudgetPiece("lift", "lift", lift), BudgetPiece(outlet, "outlet", pressure)]
    left = stated(
        f"pressure left unbalanced on the way to the {outlet} with {rows.name} open",
        abs(float(drive[0]) - sum(piece.loss.likely for piece in pieces)) + rows.residual,
        PRESSURE_DIFFERENCE,
        "What the pieces fail to add up to, and what the solve left.",
        source=BERNOULLI,
    ).keyed("set", rows.name, outlet, "unbalanced", exact="what a solve leaves")
    rise = rows.number(
        f"pressure for the {outlet}",
        drive,
        PRESSURE_DIFFERENCE,
        "Where the pressure goes, from the pump to the weakest outlet of the set, largest first: the pieces add up to "
        "the pump's rise.",
        outlet,
        "rise",
        parts=[(piece.label, piece.loss) for piece in sorted(pieces, key=lambda piece: -piece.loss.likely)],
        source=BERNOULLI,
        least=-np.inf,
        within=left.likely,
    )
    return SetBudget(outlet, rise, tuple(pieces), left)


def share_of(rows: SetRows, budget: SetBudget, piece: BudgetPiece) -> Number:
    """What a piece takes of all that drives the water.

    Parameters
    ----------
    rows : SetRows
        The set.
    budget : SetBudget
        The budget.
    piece : BudgetPiece
        One of its pieces.

    Returns
    -------
    Number
        Its share.
    """
    loss, rise = piece.loss.values, budget.rise.values
    return rows.number(
        f"share of the {piece.label} in the pressure",
        np.divide(loss, rise, out=np.full(rise.shape, np.nan), where=rise > 0.0),
        SHARE,
        "What it takes over what drives the water.",
        *piece.loss.key[2:],
        "share",
        facts=(("takes", piece.loss), ("drives the water", budget.rise)),
        source="share of a whole",
        least=-np.inf,
    )


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
        The run in which it runs fastest as planned, and the greatest speed along the rows.
    """
    speeds = {run: rows.along(rows.solved.speed(run)) for run in rows.ways[outlet].runs}

    def in_run(run: str) -> Number:
        flow, bore = (rows.along(values) for values in (rows.solved.flows.run(run), rows.solved.of_run("bore", run)))
        return by(f"speed in the {run}", speeds[run], SPEED, velocity, flow=np.abs(flow), bore=bore)

    fastest = rows.number(
        f"greatest speed on the way to the {outlet}",
        np.max(list(speeds.values()), axis=0),
        SPEED,
        "Flow over the area of the bore, in the run in which that is greatest.",
        outlet,
        "speed",
        facts=lambda: [(run, in_run(run)) for run in speeds],
        source="continuity",
    )
    return Fastest(max(speeds, key=lambda run: speeds[run][0]), fastest)


def _hot_leads(rows: SetRows, way: Way) -> npt.NDArray[np.bool_]:
    """Whether the hot side of its mixing tap stands wide open, along the rows; else the cold one does."""
    if not way.mixer:
        return np.zeros(len(rows.batch), dtype=np.bool_)
    hot, cold = (rows.along(rows.solved.flows.at(f"{way.mixer} {side}")) for side in ("hot", "cold"))
    mixer = [mixer.name for mixer in rows.solved.network.mixers].index(way.mixer)
    share = rows.along(rows.solved.numbers["hot_share"][:, mixer])
    return np.asarray(((hot <= cold) & (share > 0.0)) | (share >= 1.0))


def _lift(rows: SetRows, way: Way, hot_leads: npt.NDArray[np.bool_]) -> Array:
    """What the weight of the water takes on the way, in each row along the side that leads there."""
    shared, hot, cold = (
        sum((rows.along(rows.solved.lift(run)) for run in runs), np.zeros(len(rows.batch)))
        for runs in ((*way.suction, *way.trunk, *way.mixed), way.hot, way.cold)
    )
    return np.asarray(shared + np.where(hot_leads, hot, cold), dtype=np.float64)


def _run_pieces(rows: SetRows, run: str) -> Iterator[BudgetPiece]:
    """A run's wall and its fittings apart."""
    solved, run_of_plan = rows.solved, rows.plan.runs[run]
    total = rows.along(solved.loss(run))
    if not (any(run_of_plan.fittings.values()) or run_of_plan.k):
        yield BudgetPiece(run, "run", _wall(rows, run, total))
        return
    k, density, speed, flow = (
        rows.along(values)
        for values in (
            solved.of_run("loss_coefficient", run),
            solved.of_run("density", run),
            solved.speed(run),
            solved.flows.run(run),
        )
    )
    small = 0.5 * k * density * speed**2 * np.sign(flow)
    length = rows.batch.number(f"runs.{run}.length")
    straight = np.minimum(length / np.maximum(rows.along(solved.of_run("length", run)), 1e-12), 1.0)
    wall = (total - small) * straight
    yield BudgetPiece(run, "run", _wall(rows, run, wall))
    fittings = rows.number(
        f"loss of the fittings of the {run}",
        total - wall,
        PRESSURE_DIFFERENCE,
        "What the run takes in the whole network, less its wall: their K over the dynamic pressure, and those that "
        "count as a length.",
        "run",
        run,
        "fittings_loss",
        facts=(("K in all", (k, RATIO)), ("speed", (speed, SPEED))),
        least=-np.inf,
    )
    yield BudgetPiece(f"fittings of the {run}", "fittings", fittings)


def _wall(rows: SetRows, run: str, values: Array) -> Number:
    return rows.number(
        f"loss of the {run}",
        values,
        PRESSURE_DIFFERENCE,
        "Friction along its own length: what the run takes in the whole network, less its fittings.",
        "run",
        run,
        "wall_loss",
        facts=(("length", planned(rows.plan, f"runs.{run}.length", LENGTH)),),
        least=-np.inf,
    )
