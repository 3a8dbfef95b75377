"""How long an outlet of a set waits for hot water, and how much runs off meanwhile."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from vanwater.answers.core.spread import UnsureRows, spread
from vanwater.answers.core.statement import Range
from vanwater.answers.core.unsure import RUN_OFF
from vanwater.answers.simultaneous.rows import SetRows
from vanwater.physics.vessel import run_content
from vanwater.quantities import SECONDS, VOLUME, Array
from vanwater.system.hot_pipe import hot_pipe

__all__ = ["Waiting", "set_run_off", "set_waits"]


@dataclass(frozen=True, slots=True)
class Waiting:
    """The wait for hot water at one outlet.

    Parameters
    ----------
    outlet : str
        The outlet.
    runs : tuple of (str, float, float)
        Runs from the heater to the mixing tap or outlet, each with its content [m³] and the hot flow in it [m³/s].
    factor : float
        How many times the content runs off until it is hot, for the warm wall and the mixing [-].
    wait : Range
        Time until hot water arrives, with the flows of the set.
    run_off : Range
        Cooled water that leaves the hot pipe meanwhile.
    outflow : float
        Water that leaves the outlet meanwhile, the cold that is mixed in included [m³].
    """

    outlet: str
    runs: tuple[tuple[str, float, float], ...]
    factor: float
    wait: Range
    run_off: Range
    outflow: float

    @property
    def content(self) -> float:
        """What the hot pipe holds [m³]."""
        return sum(content for _, content, _ in self.runs)


def set_waits(rows: SetRows) -> dict[str, Waiting]:
    """The wait for hot water at each outlet of a set behind a heater.

    Parameters
    ----------
    rows : SetRows
        The set.

    Returns
    -------
    dict of str to Waiting
        By outlet; cold ones are left out.
    """
    pipes = {outlet: hot_pipe(rows.plan, outlet) for outlet in rows.ways}
    return {outlet: _waiting(rows, outlet, pipe) for outlet, pipe in pipes.items() if pipe}


def set_run_off(rows: SetRows) -> Range | None:
    """Cooled water that leaves the hot pipes of a set in all: what its outlets share runs off once.

    Parameters
    ----------
    rows : SetRows
        The set.

    Returns
    -------
    Range or None
        None where no outlet of the set is hot.
    """
    pipes = dict.fromkeys(run for outlet in rows.ways for run in hot_pipe(rows.plan, outlet))
    if not pipes:
        return None
    content = np.sum([_content(rows, run) for run in pipes], axis=0)
    return spread(*_with_run_off(rows, content), 0.0).range(VOLUME, 2)


def _waiting(rows: SetRows, outlet: str, pipe: tuple[str, ...]) -> Waiting:
    flows = rows.solved.flows
    contents = [_content(rows, run) for run in pipe]
    through = [rows.along(flows.run(run)) for run in pipe]
    with np.errstate(divide="ignore"):
        once = np.sum(
            [content / np.maximum(flow, 0.0) for content, flow in zip(contents, through, strict=True)], axis=0
        )
    once = np.where(np.isfinite(once), once, np.nan)
    wait, pairs = _with_run_off(rows, once)
    left, _ = _with_run_off(rows, np.sum(contents, axis=0))
    return Waiting(
        outlet,
        tuple(
            (run, float(content[0]), float(flow[0])) for run, content, flow in zip(pipe, contents, through, strict=True)
        ),
        float(_factor(rows)[0]),
        spread(wait, pairs, 0.0).range(SECONDS, 2),
        spread(left, pairs, 0.0).range(VOLUME, 2),
        float(wait[0]) * rows.now(flows.outlet(outlet)),
    )


def _content(rows: SetRows, run: str) -> Array:
    """What a run holds along the rows, by its own length without that of its fittings [m³]."""
    bore = rows.along(rows.solved.of_run("bore", run))
    return run_content(bore, rows.batch.number(f"runs.{run}.length"))


def _factor(rows: SetRows) -> Array:
    return rows.batch.number("household.run_off")


def _with_run_off(rows: SetRows, once: Array) -> tuple[Array, list[UnsureRows]]:
    """Values for the content run off so many times, with two rows more in which that is unsure."""
    factor = _factor(rows)
    ends = [once[:1] * (1.0 + (factor[:1] - 1.0) * end) for end in (RUN_OFF.low, RUN_OFF.high)]
    pair = UnsureRows(RUN_OFF.label, RUN_OFF.key, len(once), len(once) + 1)
    return np.concatenate([once * factor, *ends]), [*rows.unsure, pair]
