"""How often the pump starts, what the accumulator does, how hard a closing tap knocks."""

from __future__ import annotations

from vanwater.answers.core.cautions import ELEMENT, ESTIMATE, RELIEF, WIRING
from vanwater.answers.core.question import Compared, Question
from vanwater.answers.pump_starts.answer import PumpStarts, pump_starts
from vanwater.answers.pump_starts.charts import starts_against_draw
from vanwater.answers.pump_starts.controls import controls, fits
from vanwater.answers.pump_starts.handover import handover
from vanwater.answers.pump_starts.terms import TERMS
from vanwater.answers.pump_starts.time_charts import flow_over_time, pressure_over_time

__all__ = ["QUESTION"]

QUESTION = Question[PumpStarts](
    key="pump_starts",
    wet=True,
    title="Pump starts and accumulator",
    label="Pump",
    answer=pump_starts,
    charts={"starts": starts_against_draw},
    on_demand={"pressure-over-time": pressure_over_time, "flow-over-time": flow_over_time},
    fits=fits,
    controls=controls,
    cautions=(WIRING, ELEMENT, RELIEF, ESTIMATE),
    terms=TERMS,
    worked={
        words: (Compared(what, key),)
        for words, what, key in (
            ("drawdown of the accumulator", "water between starts", "accumulator.accumulator.drawdown"),
            ("starts an hour, steady draw, with accumulator", "starts at a steady draw", "pump.pump.starts"),
            ("worst steady draw, with accumulator", "worst draw", "pump.pump.worst_draw"),
            ("starts an hour at the worst draw, with accumulator", "starts then", "pump.pump.starts.worst"),
        )
    },
    handover=handover,
)
