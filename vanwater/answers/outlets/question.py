"""What each outlet gives: Flow and pressure with one outlet open, and where the pressure goes."""

from __future__ import annotations

from vanwater.answers.core.cautions import AIR_GAP, DRINKING_WATER, ESTIMATE, FILTER, HOSE, SCALD, WIRING
from vanwater.answers.core.key import key_text
from vanwater.answers.core.question import Compared, Question, first_told
from vanwater.answers.outlets.answer import Outlets, outlets
from vanwater.answers.outlets.by_piece import by_piece
from vanwater.answers.outlets.charts import pressure_along_the_way, pressure_budget
from vanwater.answers.outlets.controls import controls
from vanwater.answers.outlets.handover import handover
from vanwater.answers.outlets.pump_chart import pump_against_system
from vanwater.answers.outlets.terms import TERMS

__all__ = ["QUESTION"]

QUESTION = Question[Outlets](
    key="outlets",
    wet=True,
    title="What the outlets give",
    label="Outlets",
    answer=outlets,
    charts={"pump": pump_against_system, "along": pressure_along_the_way, "budget": pressure_budget},
    controls=controls,
    glance=first_told,
    cautions=(WIRING, SCALD, HOSE, DRINKING_WATER, AIR_GAP, FILTER, ESTIMATE),
    terms=TERMS,
    worked={
        "shower flow at the handset, mixed, alone": (Compared("flow at the handset", "outlet.shower.flow"),),
        "pressure at the handset": (Compared("pressure before it", "outlet.shower.pressure"),),
        "pump discharge pressure where pump curve and system cross": (
            Compared("pressure behind the pump", "outlet.shower.discharge_pressure"),
        ),
        "NPSH available at the pump, shower flow": (Compared("NPSH available at the pump", "outlet.shower.npsh"),),
        **{
            f"loss at the steady crossing: {run}{words}": (
                Compared(f"loss in {run}", key_text(("run", run, "loss", "shower"))),
            )
            for run, words in (
                ("suction", ""),
                ("trunk", ""),
                ("hot leg", " (own loss at its share, tap wide open)"),
                ("cold leg", " (own loss at its share, tap wide open)"),
                ("mixed hose", ""),
            )
        },
    },
    handover=handover,
    by_piece=by_piece,
)
