"""How much hot water there is, how soon again, and what it takes from the battery."""

from __future__ import annotations

from vanwater.answers.core.cautions import (
    COOLANT,
    DIESEL,
    ELEMENT,
    ESTIMATE,
    GAS,
    LEGIONELLA,
    LITHIUM,
    RELIEF,
    SCALD,
    SHOCK,
    WIRING,
)
from vanwater.answers.core.question import Compared, Question, first_told
from vanwater.answers.hot_water.answer import HotWater, hot_water
from vanwater.answers.hot_water.charts import day_of_hot_water, litres_of_a_charge
from vanwater.answers.hot_water.controls import controls
from vanwater.answers.hot_water.handover import handover
from vanwater.answers.hot_water.terms import TERMS

__all__ = ["QUESTION"]

QUESTION = Question[HotWater](
    key="hot_water",
    wet=True,
    title="Hot water",
    answer=hot_water,
    charts={"charge": litres_of_a_charge},
    on_demand={"hot-water-day": day_of_hot_water},
    controls=controls,
    glance=first_told,
    cautions=(GAS, DIESEL, ELEMENT, SHOCK, RELIEF, WIRING, SCALD, COOLANT, LEGIONELLA, LITHIUM, ESTIMATE),
    terms=TERMS,
    worked={
        "recovery time, whole tank cold to set point, loss ignored": (
            Compared("time to heat it all", "heater.heater.recovery"),
        ),
        "battery energy of one full recovery": (Compared("battery energy for that", "heater.heater.recovery_energy"),),
        "current from the battery while heating": (Compared("current meanwhile", "heater.heater.current"),),
        "litres at shower temperature from one charge, element off: must lie between": (
            Compared("one charge, fully mixed", "heater.heater.charge.mixed"),
            Compared("one charge, not mixed at all", "heater.heater.charge.plug"),
        ),
        "heat in the water of one shower": (Compared("heat in one shower", "use.shower.heat.heater"),),
        "battery energy of one shower, one hot-leg content run off or left to cool counted": (
            Compared("battery energy of one shower", "use.shower.battery_energy.heater"),
        ),
        "share of the usable battery a shower (run-off counted)": (
            Compared("its share of the battery", "use.shower.battery_share.heater"),
        ),
    },
    handover=handover,
)
