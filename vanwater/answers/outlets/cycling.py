"""One outlet behind a pump's pressure switch: whether the pump cycles under it, how its flow swings, its mean."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
import numpy.typing as npt

from vanwater.answers.core.chatter import CHATTER, LEAST_CYCLE
from vanwater.answers.core.number import Number
from vanwater.answers.core.spread import UnsureRows
from vanwater.answers.core.unsure import BORES, FITTINGS, OUTLETS, PUMPS, rows_of
from vanwater.answers.core.working import stated
from vanwater.physics import series
from vanwater.physics.pressure_switch import SwitchedFlow, draw_flow, flow_held, switched_flow
from vanwater.plan.model import Plan
from vanwater.plan.pump import BY_HAND
from vanwater.quantities import FLOW, PRESSURE, SECONDS, Array
from vanwater.system.accumulators import serving
from vanwater.system.batch import Batch
from vanwater.system.compliance import elastic_storage, pump_line
from vanwater.system.series import SeriesCase
from vanwater.system.ways import Way

__all__ = ["BERNOULLI", "FELT", "LEAST_LINE", "LOSSES", "UNSURE", "SwitchedOutlet"]

UNSURE = (OUTLETS, PUMPS, FITTINGS, BORES)

LOSSES = "Darcy-Weisbach with Colebrook's friction factor; Crane, Flow of Fluids, TP-410, chapter 1"
BERNOULLI = "Bernoulli's equation with losses"

FELT = 1.01
"""Most flow over least flow from which on it swings [-]."""

LEAST_LINE = 1e-13
"""What a line gives at the least, m³/Pa: 0.01 mL/bar, where its runs are drawn without any length."""

Bools = npt.NDArray[np.bool_]


@dataclass(frozen=True, eq=False, kw_only=True)
class SwitchedOutlet:
    """What the pump's switch makes of an outlet that is open alone.

    Parameters
    ----------
    batch : Batch
        The plan with its unsure inputs and remedies as rows.
    case : SeriesCase
        The numbers of the way.
    solved : series.SeriesFlow
        The steady solve of all rows, as if there were no switch.
    """

    batch: Batch
    case: SeriesCase
    solved: series.SeriesFlow

    @property
    def plan(self) -> Plan:
        """The plan that was asked."""
        return self.batch.plan

    @property
    def way(self) -> Way:
        """The runs that lead to it."""
        return self.case.way

    @property
    def outlet(self) -> str:
        """Its name."""
        return self.way.outlet

    @property
    def reaches(self) -> bool:
        """Whether water reaches it, and keeps reaching it."""
        return bool(self.state.reaches[0])

    @property
    def regulated(self) -> bool:
        """Whether a flow regulator in it holds its flow."""
        return bool(np.isfinite(np.ravel(self.case.physics.regulated_flow)[0]))

    @property
    def runs_dry(self) -> bool:
        """Whether the pump stops on its switch and is not started again before the outlet gives nothing."""
        return bool(self.solved.reaches[0]) and not self.reaches

    @property
    def cycles(self) -> bool | None:
        """Whether the pump's switch stops it while the outlet is open; None where no switch is decided."""
        cut_out = self.plan.pumps[self.way.pump].cut_out if self.way.pump else None
        return None if cut_out is None else bool(self.cycling[0])

    @cached_property
    def cycling(self) -> Bools:
        """The rows in which the pump's switch stops it while the outlet is open."""
        if not self.way.pump:
            return np.zeros(len(self.batch), dtype=np.bool_)
        cut_out = self.batch.number(f"pumps.{self.way.pump}.cut_out")
        return np.asarray(self.solved.reaches & (self.solved.discharge_pressure > cut_out))

    @cached_property
    def swing(self) -> SwitchedFlow | None:
        """How its flow swings while the pump cycles; None where it never does, or no cut-in is decided."""
        pump = self.way.pump
        if not self.cycling.any() or self.plan.pumps[pump].cut_in is None:
            return None
        line = np.maximum(pump_line(self.batch, pump).likely, LEAST_LINE)
        storage = elastic_storage(self.batch, serving(self.plan, pump, self.outlet), line)
        return switched_flow(self.case.physics, self.solved, *self._switch, storage)

    @property
    def _switch(self) -> tuple[Array, Array]:
        """Cut-in and cut-out along the rows [Pa]."""
        at = f"pumps.{self.way.pump}"
        return self.batch.number(f"{at}.cut_in"), self.batch.number(f"{at}.cut_out")

    @cached_property
    def state(self) -> series.SeriesFlow:
        """The solve; where the pump cycles the moment of the mean flow, of the flow at cut-out without a cut-in."""
        if not self.cycling.any():
            return self.solved
        path, (cut_in, cut_out) = self.case.physics, self._switch
        if self.swing is None:
            return flow_held(path, self.solved, self.cycling, draw_flow(path, cut_out), cut_out)
        return flow_held(path, self.solved, self.cycling, self.swing.mean_flow, 0.5 * (cut_in + cut_out))

    @cached_property
    def pairs(self) -> Sequence[UnsureRows]:
        """Rows of the unsure inputs; of a pump that is worked by hand it is the strokes that are unsure."""
        by_hand = self.way.pump and self.plan.pumps[self.way.pump].kind in BY_HAND
        return [
            replace(rows, name="how fast the pump is worked") if by_hand and rows.address == PUMPS.key else rows
            for rows in rows_of(self.batch, UNSURE)
        ]

    @cached_property
    def least(self) -> Number:
        """Least flow at it: at cut-in while the pump cycles, else its steady flow."""
        return self._at_an_end("least", "cut-in", None if self.swing is None else self.swing.flow_at_cut_in)

    @cached_property
    def most(self) -> Number:
        """Most flow at it: at cut-out while the pump cycles, else its steady flow."""
        return self._at_an_end("most", "cut-out", None if self.swing is None else self.swing.flow_at_cut_out)

    def _at_an_end(self, word: str, at: str, flow: Array | None) -> Number:
        return stated(
            f"{word} flow at the {self.outlet}",
            self.state.flow if flow is None else np.where(self.cycling, flow, self.state.flow),
            FLOW,
            f"What it draws while {at} stands behind the pump, where the pump cycles.",
            source=LOSSES,
        ).keyed("outlet", self.outlet, "flow", word, pairs=self.pairs, least=0.0)

    @cached_property
    def times(self) -> tuple[Number, Number]:
        """For how long the pump runs and rests in a cycle."""
        assert self.swing is not None
        pump = self.way.pump
        on, off = (
            stated(
                f"the {pump} {word} with the {self.outlet} open",
                values,
                SECONDS,
                "Water between the switch pressures over what pump and outlet move then.",
                source="conservation of volume; Boyle's law",
            ).keyed("pump", pump, key, self.outlet)
            for word, key, values in (("runs", "on", self.swing.on), ("rests", "off", self.swing.off))
        )
        return on, off

    @property
    def swings(self) -> bool:
        """Whether its flow is felt to swing while the pump cycles; a regulator may hold it."""
        return self.swing is not None and bool(self.cycling[0]) and self.most.likely > FELT * self.least.likely

    @property
    def chatters(self) -> bool:
        """Whether it starts so often in a cycle, or on so little water, that motor and switch do not follow."""
        on, off = self.times
        drawn = off.likely * self.least.likely
        return on.likely + off.likely < 1.0 / CHATTER or drawn < LEAST_CYCLE

    @cached_property
    def crossing(self) -> Number:
        """Pressure behind the pump at which it would run on, were there no switch."""
        return stated(
            f"pressure behind the pump with the {self.outlet} open and no switch",
            self.solved.discharge_pressure,
            PRESSURE,
            "Where the pump's curve meets what the way and the outlet ask for.",
            source=BERNOULLI,
        ).keyed("outlet", self.outlet, "crossing_pressure", pairs=self.pairs)
