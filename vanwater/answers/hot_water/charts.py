"""The chart of one charge of the heater."""

from __future__ import annotations

from vanwater.answers.core.chart import Axis, Bars, Chart
from vanwater.answers.core.statement import say
from vanwater.answers.hot_water.answer import HotWater
from vanwater.quantities import VOLUME

__all__ = ["litres_of_a_charge"]


def litres_of_a_charge(answer: HotWater) -> Chart | None:
    """Mixed water of one charge against what one use takes.

    Parameters
    ----------
    answer : HotWater
        The answer on hot water.

    Returns
    -------
    Chart or None
        None while no use wants warm water.
    """
    served = next((heater.served for heater in answer.heaters.values() if heater.served is not None), None)
    if served is None:
        return None
    return Chart(
        "charge",
        say(
            "One charge makes {low} to {high}; one {use} takes {wanted}",
            low=served.charge["mixed"].rounded(2),
            high=served.charge["plug"].rounded(2),
            use=served.name,
            wanted=served.wanted,
        ),
        Axis("mixed water", VOLUME),
        Axis("what"),
        (
            Bars.of(
                ("cold", "heat", "hot"),
                (
                    say("one {use} takes", use=served.name),
                    say("one charge, fully mixed"),
                    say("one charge, layered"),
                ),
                (served.wanted, *served.charge.values()),
            ),
        ),
        say("The truth lies between the two lower bars; where, only a thermometer tells."),
    )
