"""How long an outlet of a set waits for hot water, and how much runs off meanwhile."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from vanwater.answers.core.number import Number
from vanwater.answers.core.spread import UnsureRows
from vanwater.answers.core.unsure import RUN_OFF
from vanwater.answers.core.working import Part, by, stated
from vanwater.answers.simultaneous.rows import SetRows
from vanwater.physics.vessel import run_content
from vanwater.quantities import FLOW, RATIO, SECONDS, VOLUME, Array
from vanwater.system.hot_pipe import hot_pipe

__all__ = ["Waiting", "set_run_off", "set_waits"]

SOURCE = "1.2 to 1.6 times the content by common practice"


@dataclass(frozen=True, eq=False)
class Waiting:
    """The wait for hot water at one outlet.

    Parameters
    ----------
    rows : SetRows
        The set.
    outlet : str
        The outlet.
    pipe : tuple of str
        Runs from the heater to the mixing tap or outlet.
    """

    rows: SetRows
    outlet: str
    pipe: tuple[str, ...]

    @cached_property
    def wait(self) -> Number:
        """Time until hot water arrives, with the flows of the set."""
        with np.errstate(divide="ignore"):
            once = [_content(self.rows, run) / np.maximum(self._flow(run), 0.0) for run in self.pipe]
        each = np.where(np.isfinite(once), once, np.nan)
        values, pairs = _with_run_off(self.rows, np.sum(each, axis=0))
        factor = float(_factor(self.rows)[0])

        def facts() -> Sequence[Part]:
            flow = self.rows.now(self.rows.solved.flows.outlet(self.outlet))
            return [
                ("formula", "t = Σ f V / q"),
                ("times the content, f", (factor, RATIO)),
                *((f"hot flow in the {run}", (self._flow(run), FLOW)) for run in self.pipe),
                ("water that leaves the outlet meanwhile, cold with it", (values[0] * flow, VOLUME)),
            ]

        return stated(
            f"wait for hot water at the {self.outlet} with {self.rows.name} open",
            values,
            SECONDS,
            "Each run from the heater holds its content; the hot flow in it, those of the set together, must push it "
            "out so many times over as its warm wall and the mixing take.",
            parts=lambda: [(run, (factor * time[0], SECONDS)) for run, time in zip(self.pipe, each, strict=True)],
            facts=facts,
            source=f"content over flow; {SOURCE}",
        ).keyed("set", self.rows.name, self.outlet, "wait", pairs=pairs, least=0.0, digits=2)

    @cached_property
    def run_off(self) -> Number:
        """Cooled water that leaves the hot pipe meanwhile."""
        return _run_off(
            self.rows,
            self.pipe,
            f"water run off at the {self.outlet} until it is hot, with {self.rows.name} open",
            "What the hot pipe holds, and what its warm wall and the mixing take besides.",
            self.outlet,
        )

    def _flow(self, run: str) -> Array:
        return self.rows.along(self.rows.solved.flows.run(run))


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
    return {outlet: Waiting(rows, outlet, pipe) for outlet, pipe in pipes.items() if pipe}


def set_run_off(rows: SetRows) -> Number | None:
    """Cooled water that leaves the hot pipes of a set in all: what its outlets share runs off once.

    Parameters
    ----------
    rows : SetRows
        The set.

    Returns
    -------
    Number or None
        None where no outlet of the set is hot.
    """
    pipes = tuple(dict.fromkeys(run for outlet in rows.ways for run in hot_pipe(rows.plan, outlet)))
    if not pipes:
        return None
    return _run_off(
        rows,
        pipes,
        f"water run off with {rows.name} open until all is hot",
        "What the hot pipes hold, shared ones once, and what their warm walls and the mixing take besides.",
    )


def _run_off(rows: SetRows, pipe: tuple[str, ...], name: str, method: str, *outlet: str) -> Number:
    contents = [_content(rows, run) for run in pipe]
    values, pairs = _with_run_off(rows, np.sum(contents, axis=0))
    factor = float(_factor(rows)[0])

    def parts() -> Sequence[Part]:
        held = [
            by(f"content of the {run}", content, VOLUME, run_content, bore=bore, length=length)
            for run, content in zip(pipe, contents, strict=True)
            for bore, length in (_inside(rows, run),)
        ]
        wall = (factor - 1.0) * sum(content.likely for content in held)
        return [*((content.name, content) for content in held), ("for the wall and the mixing", (wall, VOLUME))]

    return stated(
        name,
        values,
        VOLUME,
        method,
        parts=parts,
        facts=(("formula", "f V"), ("times the content, f", (factor, RATIO))),
        source=f"geometry; {SOURCE}",
    ).keyed("set", rows.name, *outlet, "run_off", pairs=pairs, least=0.0, digits=2)


def _content(rows: SetRows, run: str) -> Array:
    """What a run holds along the rows, by its own length without that of its fittings [m³]."""
    bore, length = _inside(rows, run)
    return rows.batch.once(f"content of {run} with {rows.name} open", lambda: run_content(bore, length))


def _inside(rows: SetRows, run: str) -> tuple[Array, Array]:
    """Bore and own length of a run along the rows [m]."""
    return rows.along(rows.solved.of_run("bore", run)), rows.batch.number(f"runs.{run}.length")


def _factor(rows: SetRows) -> Array:
    return rows.batch.number("household.run_off")


def _with_run_off(rows: SetRows, once: Array) -> tuple[Array, list[UnsureRows]]:
    """Values for the content run off so many times, with two rows more in which that is unsure."""
    factor = _factor(rows)
    low, high = (float(once[0] * (1.0 + (factor[0] - 1.0) * end)) for end in (RUN_OFF.low, RUN_OFF.high))
    values, place = rows.with_ends(once * factor, low, high)
    ends = (RUN_OFF.low, RUN_OFF.high)
    return values, [*rows.unsure, UnsureRows(RUN_OFF.label, RUN_OFF.key, place, place + 1, ends)]
