"""A way to an outlet as physics sees it: bores, lengths, loss coefficients and water along the rows."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any, NamedTuple

import numpy as np

from vanwater.physics import fittings as fitting_loss
from vanwater.plan.model import Plan
from vanwater.plan.pump import DROOP_AT
from vanwater.plan.supply import Fitting
from vanwater.plan.tables import FittingRow, outlets, pipes
from vanwater.plan.tables import fittings as fitting_rows
from vanwater.quantities import Array
from vanwater.system.batch import Batch

__all__ = [
    "CRANE_TURBULENT",
    "SMOOTH_PLASTIC",
    "RunNumbers",
    "outlet_numbers",
    "run_bore",
    "run_numbers",
    "runs_numbers",
    "small_loss",
]

SMOOTH_PLASTIC = 1.5e-6
"""Roughness of smooth plastic and rubber hose, m (handbook value for drawn tubing, 1.5 µm)."""

CRANE_TURBULENT = 0.027
"""Fully turbulent friction factor of 1/2 in steel pipe, on which the handbook's ratios L/D rest:
K = (L/D) f_T (Crane TP-410, A-26)."""

_MEASURED_AT = 998.2
"""Density of the water with which a fitting's loss is measured, kg/m³ (20 °C)."""


@dataclass(frozen=True, slots=True)
class RunNumbers:
    """A run along the rows, or several side by side.

    Parameters
    ----------
    bore, length, roughness : array, shape (rows,) or (rows, runs)
        Inside diameter, length with the fittings' equivalent length, roughness [m].
    k : array, shape (rows,) or (rows, runs)
        Loss coefficients summed, on the run's bore [-].
    """

    bore: Array
    length: Array
    roughness: Array
    k: Array

    def only(self, places: int | slice | Sequence[int]) -> RunNumbers:
        """Some of the runs, by their places."""
        return RunNumbers(*(value[:, places] for value in (self.bore, self.length, self.roughness, self.k)))


def run_bore(batch: Batch, run: str) -> Array:
    """Inside diameter of a run along the rows.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    run : str
        Name of the run.

    Returns
    -------
    array, shape (rows,)
        Bore [m]; NaN where neither size nor bore is decided.
    """
    return run_numbers(batch, run).bore


def run_numbers(batch: Batch, run: str) -> RunNumbers:
    """Bore, length, roughness and loss coefficients of a run along the rows.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    run : str
        Name of the run.

    Returns
    -------
    RunNumbers
        Shape (rows,), NaN where a value is not decided.
    """
    return _every_run(batch).only(tuple(batch.plan.runs).index(run))


def runs_numbers(batch: Batch, runs: Sequence[str]) -> RunNumbers:
    """The same of several runs side by side.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    runs : sequence of str
        Names of the runs.

    Returns
    -------
    RunNumbers
        Shape (rows, runs), NaN where a value is not decided.
    """
    if 2 * len(set(runs)) < len(batch.plan.runs):  # a few of many are not worth what all of them would fill
        few = list(dict.fromkeys(runs))
        return _numbers(batch, few).only([few.index(run) for run in runs])
    places = {name: place for place, name in enumerate(batch.plan.runs)}
    return _every_run(batch).only([places[run] for run in runs])


def _every_run(batch: Batch) -> RunNumbers:
    return batch.once("runs", lambda: _numbers(batch, tuple(batch.plan.runs)))


class _Cell(NamedTuple):
    """One run in one row: its own numbers, what its fittings add to length and K, their loss over the flow squared."""

    bore: float
    roughness: float
    length: float
    added: float
    k: float
    measured: float


_FIELDS = ("size", "bore", "roughness", "length", "k", "clogged", "fittings")


def _numbers(batch: Batch, runs: Sequence[str]) -> RunNumbers:
    """Runs of the plan side by side: each as planned, and anew in the rows that change something of it."""
    plan = batch.plan
    of_plan = {name: place for place, name in enumerate(plan.runs)}
    planned, as_planned = plan.once("run cells", lambda: _planned(plan))
    cells = np.empty((len(batch), len(runs), len(_Cell._fields)))
    cells[:] = as_planned[[of_plan[run] for run in runs]]
    places = {name: place for place, name in enumerate(runs)}
    for run, at in places.items():
        changed: dict[int, dict[str, Any]] = {}
        for field in _FIELDS:
            for place, value in batch.changes(f"runs.{run}.{field}"):
                changed.setdefault(place, {})[field] = value
        for place, other in changed.items():
            cells[place, at] = _cell(plan, **(planned[of_plan[run]] | other))
    bore, roughness, straight, added, k, measured = np.moveaxis(cells, -1, 0)
    unsure = batch.factor("fittings")[:, np.newaxis]
    fallen = fitting_loss.k_from_loss(_droops(batch, places), 1.0, bore, _MEASURED_AT)
    return RunNumbers(
        bore * batch.factor("bores")[:, np.newaxis],
        straight + added * unsure,
        roughness,
        (k + fitting_loss.k_from_loss(measured, 1.0, bore, _MEASURED_AT)) * unsure + fallen,
    )


def _droops(batch: Batch, places: Mapping[str, int]) -> Array:
    """How far regulators at mains inlets let the pressure fall in the runs behind them, over the flow squared."""
    droops = np.zeros((len(batch), len(places)))
    for name, inlet in batch.plan.mains.items():
        if inlet.regulator is None:
            continue
        droop = batch.number(f"mains.{name}.droop") * batch.factor("droops") / DROOP_AT**2
        for run, place in places.items():
            if batch.plan.runs[run].start == name:
                droops[:, place] = droop
    return droops


def _planned(plan: Plan) -> tuple[list[dict[str, Any]], Array]:
    """What each run of the plan says, and what that makes of it."""
    said = [{field: getattr(run, field) for field in _FIELDS} for run in plan.runs.values()]
    return said, np.array([_cell(plan, **values) for values in said]).reshape(-1, len(_Cell._fields))


def _cell(
    plan: Plan,
    size: str | None,
    bore: float | None,
    roughness: float | None,
    length: float | None,
    k: float,
    clogged: float,
    fittings: Mapping[str, int],
) -> _Cell:
    pipe = None if size is None else pipes()[size]
    own = pipe.bore if pipe is not None else np.nan if bore is None else bore
    rough = roughness if roughness is not None else SMOOTH_PLASTIC if pipe is None else pipe.roughness
    added = measured = 0.0
    for kind, count in fittings.items():
        each = _small_loss(plan, kind, clogged)
        k, added, measured = k + count * each[0], added + count * each[1], measured + count * each[2]
    return _Cell(own, rough, np.nan if length is None else length, added, k, measured)


def _small_loss(plan: Plan, kind: str, clogged: float) -> tuple[float, float, float]:
    """K, equivalent length, and measured loss over the square of its flow, of one fitting."""
    row: FittingRow | Fitting = plan.fittings[kind] if kind in plan.fittings else fitting_rows()[kind]
    measured = 0.0 if row.loss is None or row.loss_at is None else row.loss / row.loss_at**2
    k = row.k or 0.0
    if not isinstance(row, FittingRow):
        return k, 0.0, measured
    k = k / (row.bore_ratio or 1.0) ** 4 + (row.length_in_bores or 0.0) * CRANE_TURBULENT
    worse = 1.0 + (row.clogged_factor - 1.0) * clogged
    return k * worse, (row.equivalent_length or 0.0) * worse, measured * worse


def small_loss(plan: Plan, kind: str, bore: Array, clogged: float = 0.0) -> tuple[Array, Array]:
    """Loss coefficient and equivalent length of one fitting on a bore.

    Parameters
    ----------
    plan : Plan
        With the builder's own fittings, which come before the table's.
    kind : str
        Key of the fitting.
    bore : array
        Bore of the run [m].
    clogged : float
        How clogged it is, 0 to 1 [-].

    Returns
    -------
    tuple of array
        Loss coefficient on the bore [-] and equivalent length [m].
    """
    k, length, measured = _small_loss(plan, kind, clogged)
    return k + fitting_loss.k_from_loss(measured, 1.0, bore, _MEASURED_AT), np.full_like(bore, length)


def outlet_numbers(batch: Batch, outlet: str) -> Mapping[str, Array]:
    """An outlet along the rows: flow at a pressure, and whether a regulator holds that flow.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    outlet : str
        Name of the outlet.

    Returns
    -------
    mapping
        "flow" [m³/s] at "at" [Pa], "regulated" (1 or 0); NaN where nothing is decided.
    """
    address = f"outlets.{outlet}"

    def flow(kind: str | None, own: float | None) -> float:
        return outlets()[kind].flow if kind is not None else np.nan if own is None else own

    def at(kind: str | None, own: float | None) -> float:
        return outlets()[kind].at if kind is not None else np.nan if own is None else own

    def regulated(kind: str | None, own: bool) -> float:
        return float(outlets()[kind].regulated if kind is not None else own)

    return {
        "flow": batch.each((f"{address}.type", f"{address}.flow"), flow) * batch.factor("outlets"),
        "at": batch.each((f"{address}.type", f"{address}.at"), at),
        "regulated": batch.each((f"{address}.type", f"{address}.regulated"), regulated),
    }
