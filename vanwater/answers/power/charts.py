"""The charts of power: what a day takes and puts back, and the battery through a stay."""

from __future__ import annotations

import numpy as np

from vanwater.answers.core.chart import Axis, Bars, Chart, Line, Role, Rule
from vanwater.answers.core.statement import say
from vanwater.answers.power.answer import Power
from vanwater.answers.power.balance import IN_WORDS
from vanwater.quantities import DAILY_ENERGY, ENERGY, STAY

__all__ = ["battery_through_a_stay", "day_of_the_battery", "states_of_a_day"]

_ROLES: dict[str, Role] = {"hot water": "hot", "standing": "hot", "pad": "heat", "bank": "heat", "pump": "fresh"}
_MOST = 9


def day_of_the_battery(answer: Power) -> Chart | None:
    """What each consumer takes a day, and what each source puts back.

    Parameters
    ----------
    answer : Power
        The answer on power.

    Returns
    -------
    Chart or None
        None while the battery is not decided, or takes part in nothing.
    """
    balance = answer.balance
    if balance is None:
        return None
    told = [taken for taken in (*balance.taken, *balance.put) if np.isfinite(taken.a_day.likely)][:_MOST]
    if not told:
        return None
    roles: tuple[Role, ...] = tuple(
        "saved" if taken.source else _ROLES.get(taken.key[1].replace("_", " "), "battery") for taken in told
    )
    names = tuple(say("+ {name}", name=taken.label) if taken.source else taken.label for taken in told)
    return Chart(
        "balance",
        say("The loads take {loads} from the battery", loads=balance.loads.amount),
        Axis("energy a day", DAILY_ENERGY),
        Axis("consumer or source"),
        (Bars.of(roles, names, [taken.a_day for taken in told]),),
        say("What consumers take from the battery a day, the thirstiest first, then what sources put back."),
    )


def states_of_a_day(answer: Power) -> Chart | None:
    """What the battery gives in each state of the day, its hours beside it.

    Parameters
    ----------
    answer : Power
        The answer on power.

    Returns
    -------
    Chart or None
        None while the battery is not decided, or the day has one state alone.
    """
    balance = answer.balance
    if balance is None or len(balance.states) < 2 or not np.isfinite(balance.loads.likely):
        return None
    names = tuple(
        say("{state}, {hours}", state=IN_WORDS[state], hours=balance.hours[state]) for state in balance.states
    )
    most = max(balance.states, key=lambda state: balance.by_state[state].likely)
    return Chart(
        "states",
        say("Most of the day's power is taken {state}", state=IN_WORDS[most]),
        Axis("energy", ENERGY),
        Axis("state of the van"),
        (Bars.of("battery", names, [balance.by_state[state] for state in balance.states]),),
        say("What all loads take from the battery in each state of a day."),
    )


def battery_through_a_stay(answer: Power) -> Chart | None:
    """What is left in the battery day by day, with what is put back and without.

    Parameters
    ----------
    answer : Power
        The answer on power.

    Returns
    -------
    Chart or None
        None while its days are not decided.
    """
    balance = answer.balance
    if balance is None or not np.isfinite(balance.uncharged.likely) or balance.uncharged.likely <= 0.0:
        return None
    nights = answer.nights
    longest = balance.days.likely if np.isfinite(balance.days.likely) else 0.0
    end = 1.1 * max(balance.uncharged.likely, min(longest, 4.0 * balance.uncharged.likely), nights)
    time = np.linspace(0.0, end, 60)
    usable = balance.usable.likely
    draws: list[Line | Rule] = []
    for days, words in ((balance.uncharged, "nothing put back"), (balance.days, "on a mean day")):
        if days is balance.days and days is balance.uncharged:
            continue
        share = np.ones_like(time) if not np.isfinite(days.likely) else np.clip(1.0 - time / days.likely, 0.0, 1.0)
        draws.append(Line("plain" if days is balance.uncharged else "battery", time, usable * share, words))
    draws.append(Rule("nights without a charge", x=nights))
    return Chart(
        "battery",
        say("Without any charge the battery lasts {days}", days=balance.uncharged),
        Axis("time out", STAY, low=0.0, high=end),
        Axis("left in the battery", ENERGY, low=0.0, high=usable),
        tuple(draws),
        say("What is left in the battery falls from all that may be used of it; steeper where nothing is put back."),
    )
