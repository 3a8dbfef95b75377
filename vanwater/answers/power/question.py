"""What the battery gives and gets back in a day, and whether cables, inverter and socket carry it."""

from __future__ import annotations

from vanwater.answers.core.cautions import ESTIMATE, LITHIUM, SHOCK, WIRING
from vanwater.answers.core.question import Question, told_of
from vanwater.answers.power.answer import Power, power
from vanwater.answers.power.charts import battery_through_a_stay, day_of_the_battery, states_of_a_day
from vanwater.answers.power.controls import controls
from vanwater.answers.power.handover import handover
from vanwater.answers.power.sources import heat_sources

__all__ = ["QUESTION"]

QUESTION = Question[Power](
    key="power",
    title="Power of a day",
    label="Power",
    answer=power,
    on_demand={"states": states_of_a_day, "sources": heat_sources},
    charts={"balance": day_of_the_battery, "battery": battery_through_a_stay},
    controls=controls,
    glance=told_of("battery.all_loads_a_day", "battery.all_loads_charge_a_day"),
    brief=False,
    cautions=(WIRING, SHOCK, LITHIUM, ESTIMATE),
    handover=handover,
)
