"""Whether water stands warm in a heater for days."""

from __future__ import annotations

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.statement import say
from vanwater.answers.core.working import limit, planned, stated
from vanwater.quantities import DAILY_VOLUME, HOURS, STAY, TEMPERATURE, VOLUME
from vanwater.system.batch import Batch
from vanwater.system.hot_water_demand import hot_water_a_day

__all__ = ["HEAT_THROUGH", "hygiene"]

_GROWTH = "WHO (2007), Legionella and the prevention of legionellosis: they grow from 25 to 50 °C; from memory"
_BREEDS = (298.15, 323.15)
HEAT_THROUGH = limit("water at which legionella die within minutes", 333.15, TEMPERATURE, _GROWTH)
_STALE = limit("time that warm water may stay", 3 * 86400.0, STAY, "common practice", digits=2)


def hygiene(batch: Batch, name: str) -> Finding:
    """The finding on water that stands warm for days.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    name : str
        The heater.

    Returns
    -------
    Finding
        Watched where legionella grow in it and it stays for long.
    """
    key, address = f"hot_water.{name}.hygiene", f"heaters.{name}.set_point"
    hot = planned(batch.plan, address, TEMPERATURE)
    drawn = stated(
        f"hot water drawn from the {name} a day",
        hot_water_a_day(batch, name),
        DAILY_VOLUME,
        "Its share in the mixed water of all uses, and what runs off before it.",
        source="heat balance of mixing",
    ).keyed("heater", name, "drawn_a_day")
    if not drawn.likely > 0.0:
        stays = say("no use draws from it, so it stands")
    else:
        held = planned(batch.plan, f"heaters.{name}.volume", VOLUME)
        time = stated(
            f"time that water stays in the {name}",
            batch.number(f"heaters.{name}.volume") / drawn.values,
            STAY,
            "What it holds over what is drawn a day.",
            facts=[("holds", held), ("drawn a day", drawn)],
            source="conservation of volume",
        ).keyed("heater", name, "stays", digits=2)
        stays = say("it is drawn through in {time}", time=time.rounded(2, HOURS) if time.likely < 86400.0 else time)
    stale = drawn.likely * _STALE.likely < batch.plan.heaters[name].volume
    warm = stale and _BREEDS[0] <= hot.likely < _BREEDS[1]
    return Finding(
        key,
        Verdict.WATCH if warm else Verdict.FINE,
        say(
            "The {heater} keeps {hot}, at which legionella grow, and {stays}; more than {most} is long."
            if warm
            else "The {heater} keeps {hot}, and {stays}; what stands warm for more than {most} is the risk.",
            heater=name,
            hot=hot,
            stays=stays,
            most=_STALE,
        ),
        change=say("After standing, heat it through to {rule} and flush every outlet.", rule=HEAT_THROUGH),
        address=address,
        source=_GROWTH,
    )
