"""A way to an outlet as physics sees it: bores, lengths, loss coefficients and water along the rows."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from vanwater.physics import fittings as fitting_loss
from vanwater.plan.model import Plan
from vanwater.plan.supply import Fitting
from vanwater.plan.tables import FittingRow, fittings, outlets, pipes
from vanwater.quantities import Array
from vanwater.system.batch import Batch

__all__ = ["CRANE_TURBULENT", "SMOOTH_PLASTIC", "RunNumbers", "outlet_numbers", "run_bore", "run_numbers", "small_loss"]

SMOOTH_PLASTIC = 1.5e-6
"""Roughness of smooth plastic and rubber hose, m (handbook value for drawn tubing, 1.5 µm)."""

CRANE_TURBULENT = 0.027
"""Fully turbulent friction factor of 1/2 in steel pipe, on which the handbook's ratios L/D rest:
K = (L/D) f_T (Crane TP-410, A-26)."""


@dataclass(frozen=True, slots=True)
class RunNumbers:
    """A run along the rows.

    Parameters
    ----------
    bore, length, roughness : array, shape (rows,)
        Inside diameter, length with the fittings' equivalent length, roughness [m].
    k : array, shape (rows,)
        Loss coefficients summed, on the run's bore [-].
    """

    bore: Array
    length: Array
    roughness: Array
    k: Array


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

    def bore(size: str | None, own: float | None) -> float:
        if size is not None:
            return pipes()[size].bore
        return np.nan if own is None else own

    return batch.each((f"runs.{run}.size", f"runs.{run}.bore"), bore) * batch.factor("bores")


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
        NaN where a value is not decided.
    """
    return batch.once(f"run {run}", lambda: _run_numbers(batch, run))


def _run_numbers(batch: Batch, run: str) -> RunNumbers:
    at = f"runs.{run}"

    def roughness(size: str | None, own: float | None) -> float:
        return own if own is not None else pipes()[size].roughness if size is not None else SMOOTH_PLASTIC

    bore = run_bore(batch, run)
    nominal = bore / batch.factor("bores")
    unsure = batch.factor("fittings")
    k = batch.number(f"{at}.k") * unsure
    length = batch.number(f"{at}.length")
    clogged = batch.number(f"{at}.clogged", 0.0)
    kinds = dict.fromkeys(
        kind
        for counts in [batch.plan.runs[run].fittings, *(row.values.get(f"{at}.fittings", {}) for row in batch.rows)]
        for kind in counts
    )
    for kind in kinds:
        count = batch.each((f"{at}.fittings",), lambda counts, kind=kind: float(counts.get(kind, 0)))
        one_k, one_length = small_loss(batch.plan, kind, nominal, clogged)
        k = k + count * one_k * unsure
        length = length + count * one_length * unsure
    return RunNumbers(bore, length, batch.each((f"{at}.size", f"{at}.roughness"), roughness), k)


def small_loss(plan: Plan, kind: str, bore: Array, clogged: Array) -> tuple[Array, Array]:
    """Loss coefficient and equivalent length of one fitting on a bore.

    Parameters
    ----------
    plan : Plan
        With the builder's own fittings, which come before the table's.
    kind : str
        Key of the fitting.
    bore : array
        Bore of the run [m].
    clogged : array
        How clogged it is, 0 to 1 [-].

    Returns
    -------
    tuple of array
        Loss coefficient on the bore [-] and equivalent length [m].
    """
    row: FittingRow | Fitting = plan.fittings[kind] if kind in plan.fittings else fittings()[kind]
    k = np.zeros_like(bore)
    length = np.zeros_like(bore)
    if row.k is not None:
        ratio = row.bore_ratio if isinstance(row, FittingRow) and row.bore_ratio is not None else 1.0
        k = k + row.k / ratio**4
    if row.loss is not None and row.loss_at is not None:
        k = k + fitting_loss.k_from_loss(row.loss, row.loss_at, bore, 998.2)
    if isinstance(row, FittingRow):
        if row.length_in_bores is not None:
            k = k + row.length_in_bores * CRANE_TURBULENT
        if row.equivalent_length is not None:
            length = length + row.equivalent_length
        worse = 1.0 + (row.clogged_factor - 1.0) * clogged
        k, length = k * worse, length * worse
    return k, length


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
