"""Whether water stands warm for days: in a heater's store, and cold water that is not cold."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.spread import UnsureRows
from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.water_number import tank_number
from vanwater.answers.core.working import limit, planned, stated
from vanwater.plan.tanks import label_of
from vanwater.quantities import DAILY_VOLUME, RATIO, STAY, TEMPERATURE, VOLUME
from vanwater.system.batch import Batch
from vanwater.system.hot_water_demand import hot_water_a_day

__all__ = ["HEAT_THROUGH", "hygiene", "warm_cold_water"]

_GROWTH = "WHO (2007), Legionella and the prevention of legionellosis: they grow from 25 to 50 °C; from memory"
_HOUSES = "HSE (UK), HSG274 part 2: buildings store at 60 °C and keep cold water below 20 °C"
_BREEDS = (298.15, 323.15)
HEAT_THROUGH = limit("water at which legionella die within minutes", 333.15, TEMPERATURE, _GROWTH)
_STALE = limit("time that warm water may stay", 3 * 86400.0, STAY, "common practice", digits=2)
_GROWS = limit("water from which on legionella grow", _BREEDS[0], TEMPERATURE, _GROWTH)
_COLD = limit("cold water of buildings", 293.15, TEMPERATURE, _HOUSES)


def hygiene(batch: Batch, name: str, pairs: Sequence[UnsureRows] = ()) -> Finding:
    """The finding on water that stands warm for days.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    name : str
        The heater.
    pairs : sequence of UnsureRows
        Where the unsure inputs stand.

    Returns
    -------
    Finding
        Watched where legionella grow in it and the household's own draw does not turn it over.
    """
    key, address = f"hot_water.{name}.hygiene", f"heaters.{name}.set_point"
    if batch.plan.heaters[name].as_it_flows:
        return Finding(
            key,
            Verdict.FINE,
            say("The {heater} heats as the water flows, so nothing stands warm in it for long.", heater=name),
            address=address,
            source=_GROWTH,
        )
    hot, drawn = planned(batch.plan, address, TEMPERATURE), hot_water_a_day(batch, name)
    stale = drawn[0] * _STALE.likely < batch.plan.heaters[name].volume
    low, grows = hot.likely < HEAT_THROUGH.likely, _BREEDS[0] <= hot.likely < _BREEDS[1]
    return Finding(
        key,
        Verdict.WATCH if stale and grows else Verdict.FINE,
        say(
            "The {heater} keeps {hot}{grows}, and {turned}.{houses}",
            heater=name,
            hot=hot,
            grows=say(", at which legionella grow") if grows else say(""),
            turned=_turned(batch, name, pairs, stale=stale),
            houses=say(" Houses, whose water stands in long pipes, store at {rule}.", rule=HEAT_THROUGH)
            if low and stale
            else say(""),
        ),
        change=say(
            "When it has stood for {most}, heat it through to {rule} and flush every outlet.",
            most=_STALE,
            rule=HEAT_THROUGH,
        )
        if low or stale
        else None,
        address=address,
        source=f"{_GROWTH}; {_HOUSES}" if low and stale else _GROWTH,
    )


def _turned(batch: Batch, name: str, pairs: Sequence[UnsureRows], *, stale: bool) -> Say:
    """How often a day the household's own draw fills it anew."""
    drawn = stated(
        f"hot water drawn from the {name} a day",
        hot_water_a_day(batch, name),
        DAILY_VOLUME,
        "Its share in the mixed water of all uses, and what runs off before it.",
        source="heat balance of mixing",
    ).keyed("heater", name, "drawn_a_day", pairs=pairs, least=0.0)
    if not drawn.likely > 0.0:
        return say("no use draws from it, so it stands")
    own = ("heater", name)
    held, volume = planned(batch.plan, f"heaters.{name}.volume", VOLUME), batch.number(f"heaters.{name}.volume")
    facts = [("holds", held), ("drawn a day", drawn)]
    if stale:
        with np.errstate(over="ignore", divide="ignore"):  # next to nothing is drawn
            held_for = volume / drawn.values
        time = stated(
            f"time that water stays in the {name}",
            held_for,
            STAY,
            "What it holds over what is drawn a day.",
            facts=facts,
            source="conservation of volume",
        ).keyed(*own, "stays", pairs=pairs, rates=drawn.values / volume, digits=2)
        return say("is drawn through only in {time}; more than {most} is long", time=time, most=_STALE)
    times = stated(
        f"times a day that the {name} is drawn through",
        drawn.values * 86400.0 / volume,
        RATIO,
        "What is drawn a day over what it holds.",
        facts=facts,
        source="conservation of volume",
    ).keyed(*own, "turnover", pairs=pairs, least=0.0, digits=2)
    return say("is drawn through {times} times a day", times=times)


def warm_cold_water(batch: Batch) -> Iterator[Finding]:
    """The finding on the warmest fresh tank whose water is not cold.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.

    Yields
    ------
    Finding
        Watched from where legionella grow; none where it is as cold as houses keep it.
    """
    fresh = [name for name, tank in batch.plan.tanks.items() if tank.holds == "fresh"]
    if not fresh:
        return
    name, water = max(((name, tank_number(batch, name)) for name in fresh), key=lambda told: told[1].likely)
    if water.likely <= _COLD.likely:
        return
    grows = water.likely > _GROWS.likely
    yield Finding(
        "hot_water.cold.warm",
        Verdict.WATCH if grows else Verdict.FINE,
        say(
            "The water of the {tank} is at {water}; from {grows} on legionella grow in the tank too."
            if grows
            else "The water of the {tank} is at {water}: warmer than houses keep it, below the {grows} from which on "
            "legionella grow.",
            tank=label_of(name),
            water=water,
            grows=_GROWS,
        ),
        change=say("Use it up within {most}, keep the tank shaded, sanitise it more often.", most=_STALE)
        if grows
        else say("In hot weather use it up within {most}.", most=_STALE),
        address=f"tanks.{name}",
        source=f"{_GROWTH}; {_HOUSES}",
    )
