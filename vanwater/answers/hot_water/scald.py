"""How hot the water of a heater comes out: how soon it burns, whether it boils at the highest place."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.working import limit, planned, stated, step
from vanwater.answers.hot_water.hygiene import HEAT_THROUGH
from vanwater.physics import scald
from vanwater.physics.atmosphere import air_pressure
from vanwater.physics.water import vapour_pressure
from vanwater.plan.model import Plan
from vanwater.quantities import ALTITUDE, TEMPERATURE
from vanwater.system.thermostat import MILD, scalding_outlets, unmixed_outlets

__all__ = ["scald_findings"]

_BURNS = "US CPSC publication 5098; Moritz and Henriques (1947)"
_SCALDS = limit("water that burns a hand within minutes", 322.15, TEMPERATURE, _BURNS)
_QUICK = 10.0
"""Time to a burn within which nobody pulls a hand away, s (common practice)."""
_HOTTEST = 343.15
"""Beyond this no shorter burn time is told, K."""
_SWING = 5.0
"""What a thermostat may overshoot, K (common practice)."""
_BY_HAND = limit("water that is mixed by hand", HEAT_THROUGH.likely + _SWING, TEMPERATURE, "common practice in houses")
"""What legionella ask for and a thermostat's swing: a tap that is mixed by hand is as in a house up to here."""
_MILD = limit("temperature of a shower's valve", MILD, TEMPERATURE, "common practice")


def scald_findings(plan: Plan, name: str) -> Iterator[Finding]:
    """The findings on how hot the water of a heater comes out.

    Parameters
    ----------
    plan : Plan
        The plan.
    name : str
        The heater.

    Yields
    ------
    Finding
        How soon it burns skin; whether it boils at the highest place.
    """
    yield _scald(plan, name)
    yield from _boils(plan, name)


def _scald(plan: Plan, name: str) -> Finding:
    key, address = f"hot_water.{name}.scald", f"heaters.{name}.set_point"
    hot = _delivered(plan, name)
    if scalding_outlets(plan, name, -math.inf) and not scalding_outlets(plan, name, MILD):
        return Finding(
            key,
            Verdict.FINE,
            say(
                "Every outlet of the {heater} is behind a thermostatic valve that is set to {mild} or less.",
                heater=name,
                mild=_MILD,
            ),
            change=say("Test the valves every half year: shut the cold side, the flow must stop."),
            address=address,
            source="common practice",
        )
    if hot.likely < _SCALDS.likely:
        return Finding(
            key,
            Verdict.FINE,
            say(
                "At {hot} water of the {heater} hurts skin only after minutes, a child's at about half of them.",
                hot=hot,
                heater=name,
            ),
            value=hot.amount,
            limit=_SCALDS.amount,
            address=address,
            source=_BURNS,
        )
    time = step("time to a burn", scald.scald_time, temperature=np.minimum(hot.values, _HOTTEST))
    direct = unmixed_outlets(plan, name)
    mixed = not direct and hot.likely <= _BY_HAND.likely and bool(scalding_outlets(plan, name, MILD))
    where = (
        "At {hot} the water of the {heater} comes out of the {outlets} as it is, no mixer before it"
        if direct
        else "At {hot} the water of the {heater} is mixed before every outlet. Without cold water"
        if mixed
        else "At {hot} no thermostatic valve holds the water of the {heater} mild"
    )
    told = say(
        f"{where}{'' if mixed else ':'} it {{burns}}.",
        hot=hot,
        heater=name,
        burns=_burns(name, hot, time),
        **({"outlets": direct} if direct else {}),
    )
    return Finding(
        key,
        Verdict.FINE if mixed else Verdict.FAILS if direct and time.likely <= _QUICK else Verdict.WATCH,
        told,
        value=hot.amount,
        limit=(_BY_HAND if mixed else _SCALDS).amount,
        change=say(
            "Open the cold side first. For children and guests fit a thermostatic valve, {mild} or less.", mild=_MILD
        )
        if mixed
        else say("Fit a thermostatic mixing valve set to {mild} or less, or heat to less.", mild=_MILD),
        address=address,
        source=f"{_BURNS}; first injury and children from memory",
    )


def _delivered(plan: Plan, name: str) -> Number:
    """The hottest that can come out of an outlet of a heater: its own water, or what all their valves let through."""
    hot = planned(plan, f"heaters.{name}.set_point", TEMPERATURE)
    if not scalding_outlets(plan, name, -math.inf):
        return hot
    sets = sorted(valve.set for valve in plan.mixers.values() if valve.kind == "thermostatic" and valve.set is not None)
    held = next((warm for warm in sets if warm < hot.likely and not scalding_outlets(plan, name, warm)), None)
    if held is None:
        return hot
    return stated(
        f"hottest water at an outlet of the {name}",
        held,
        TEMPERATURE,
        "What the thermostatic valve that is set highest lets through.",
        source="the plan",
    ).keyed("heater", name, "delivered", exact="as planned")


def _burns(name: str, hot: Number, time: Number) -> Say:
    """How soon it hurts, and how soon it burns to the third degree."""
    first, childs = (
        step(words, scald.injury_time, temperature=np.minimum(hot.values, _HOTTEST), share=share).keyed(
            "heater", name, key, digits=1
        )
        for words, share, key in (
            ("time to a first injury", scald.FIRST, "injury_time"),
            ("time to a child's first injury", scald.CHILDS, "childs_injury_time"),
        )
    )
    if hot.likely > _HOTTEST:
        return say("hurts skin at once and burns it to the third degree within less than a second")
    return say(
        "first hurts skin after about {first}, a child's after about {childs}, and burns to the third degree within "
        "about {time}",
        first=first,
        childs=childs,
        time=time.keyed("heater", name, "burn_time", digits=1),
    )


def _boils(plan: Plan, name: str) -> Iterator[Finding]:
    """Water that boils at the highest place of the plan once a tap lets its pressure go."""
    if plan.site.highest is None:
        return
    hot = planned(plan, f"heaters.{name}.set_point", TEMPERATURE)
    highest = planned(plan, "site.highest", ALTITUDE)
    air = float(air_pressure(highest.likely))
    boils = float(vapour_pressure(hot.likely)) >= air
    if float(vapour_pressure(hot.likely + _SWING)) < air:
        return
    yield Finding(
        f"hot_water.{name}.boils",
        Verdict.FAILS if boils else Verdict.WATCH,
        say(
            "The {heater} makes {hot}, and at {height} water boils below that: steam and scalding water spit out of an "
            "open tap."
            if boils
            else "The {heater} makes {hot}, so near boiling at {height} that its thermostat's swing makes steam at an "
            "open tap.",
            height=highest,
            hot=hot,
            heater=name,
        ),
        change=say("Set it to {rule} or less before the van goes so high.", rule=HEAT_THROUGH),
        address=f"heaters.{name}.set_point",
        source="IAPWS-95 vapour pressure; ISO 2533 standard atmosphere",
    )
