"""The charts of hot water: one charge drawn to its end, and a day."""

from __future__ import annotations

import numpy as np

from vanwater.answers.core.chart import Axis, Chart, Draw, Line, Mark, Role, Rule
from vanwater.answers.core.statement import Say, say
from vanwater.answers.hot_water.answer import HotWater
from vanwater.answers.hot_water.heater import HeaterAnswer
from vanwater.physics.heater_tank import HeaterTank, heater_run
from vanwater.quantities import HOURS, TEMPERATURE, VOLUME

__all__ = ["day_of_hot_water", "litres_of_a_charge"]

_LAYERS, _STEPS = 24, 48


def litres_of_a_charge(answer: HotWater) -> Chart | None:
    """Temperature at the tap against the litres drawn of one charge, likely, all mixed and not mixed at all.

    Parameters
    ----------
    answer : HotWater
        The answer on hot water.

    Returns
    -------
    Chart or None
        None while no use wants warm water of a store.
    """
    heater = _first(answer)
    if heater is None or heater.charge is None or heater.served is None:
        return None
    charge, served, numbers = heater.charge, heater.served, heater.numbers
    volume, cold, hot, likely = (float(each[0]) for each in (numbers.volume, numbers.cold, numbers.hot, numbers.mixing))
    wanted, most = served.temperature.likely, 1.15 * max(charge.ends["plug"].likely, served.wanted.likely)
    tank = HeaterTank(volume=volume, power=0.0, set_point=hot, mixing=np.array([1.0, 0.0, likely]))
    drawn = np.full((3, _STEPS), most / _STEPS)
    run = heater_run(np.full((3, _LAYERS), hot), drawn, wanted, cold, tank, on=False)
    litres = np.linspace(0.0, most, _STEPS + 1)
    taps = np.concatenate([np.full((3, 1), wanted), run.tap], axis=-1)
    words: tuple[tuple[Role, Say], ...] = (
        ("cold", say("fully mixed")),
        ("heat", say("not mixed at all")),
        ("hot", say("likely")),
    )
    draws: list[Draw] = [Line(role, litres, tap, label) for (role, label), tap in zip(words, taps, strict=True)]
    draws.append(Rule(say("{use}", use=served.name), x=served.wanted.likely))
    return Chart(
        "charge",
        say(
            "One charge makes {litres} at {temperature}; {wanted} are drawn for the {use}",
            litres=charge.litres,
            temperature=served.temperature,
            use=served.name,
            wanted=served.wanted,
        ),
        Axis("mixed water drawn", VOLUME),
        Axis("temperature at the tap", TEMPERATURE, low=cold),
        tuple(draws),
        say(
            "Drawn without a stop, its element off, the tap stays at {temperature} for {low} if all of it mixes, for "
            "{high} if nothing does, likely for {likely}; then it runs colder.",
            temperature=served.temperature,
            low=charge.ends["mixed"],
            high=charge.ends["plug"],
            likely=charge.litres.amount,
        ),
    )


def day_of_hot_water(answer: HotWater) -> Chart | None:
    """The temperature on top of a heater and at the tap through a day.

    Parameters
    ----------
    answer : HotWater
        The answer on hot water.

    Returns
    -------
    Chart or None
        None while there is no day to follow.
    """
    heater = _first(answer)
    if heater is None or heater.day is None:
        return None
    day, followed = heater.day, heater.day.followed
    hour, top, tap = followed.time[0], followed.top[0], followed.tap[0]
    drawn = np.isfinite(tap)
    around = np.append(0.0, hour), np.append(top[-1], top)  # the day before was like it
    draws: list[Draw] = [Line("hot", *around, say("on top of the {heater}", heater=heater.name))]
    draws += [Mark("fresh", float(at), float(warm)) for at, warm in zip(hour[drawn], tap[drawn], strict=True)]
    return Chart(
        "hot-water-day",
        say("A day takes {heat} of heat; {lost} of it go into the room", heat=day.heated.amount, lost=day.lost.amount),
        Axis("hour of the day", HOURS, low=0.0, high=86400.0),
        Axis("temperature", TEMPERATURE, low=float(heater.numbers.cold[0])),
        tuple(draws),
        say(
            "The line is the water on top of the heater, the points are the tap in each draw; at the coldest it "
            "runs at {coldest}.",
            coldest=day.coldest,
        ),
    )


def _first(answer: HotWater) -> HeaterAnswer | None:
    """The first heater with a store from which a use draws."""
    return next((heater for heater in answer.heaters.values() if heater.charge is not None), None)
