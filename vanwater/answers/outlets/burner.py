"""Whether a heater that heats as the water flows gets flow enough to light."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.answers.core.finding import Finding, Verdict, judge
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import say
from vanwater.answers.core.working import limit, planned, stated
from vanwater.answers.outlets.outlet import OutletSupply
from vanwater.plan.energy import BURNERS
from vanwater.quantities import FLOW, SHARE

__all__ = ["USUAL_LEAST", "burner_finding", "flow_through"]

USUAL_LEAST = 2e-3 / 60
"""Least flow of small instant heaters, m³/s: 2 L/min, burners light at 1.5 to 3 (common practice, from memory)."""

_USUAL = "common practice, from memory"


def flow_through(supply: OutletSupply) -> Number:
    """The flow that the heater on the way to an outlet can count on.

    Parameters
    ----------
    supply : OutletSupply
        A solved outlet with a heater on its way.

    Returns
    -------
    Number
        The hot share of its flow, at the low end of the swing while the pump cycles [m³/s].
    """
    heater, lowest, share = supply.way.heater, supply.lowest, supply.case.physics.hot_share
    return stated(
        f"flow through the {heater} with the {supply.outlet} open",
        lowest.values * share,
        FLOW,
        "The hot share of what the outlet gives, at the low end of the swing while the pump cycles.",
        facts=(("what it gives", lowest), ("hot share of the flow", (share, SHARE))),
        source="mixing of two flows",
    ).keyed("outlet", supply.outlet, "heater_flow", pairs=supply.pairs, least=0.0)


def burner_finding(supply: OutletSupply) -> Iterator[Finding]:
    """The finding on a heater that heats as the water flows.

    Parameters
    ----------
    supply : OutletSupply
        A solved outlet.

    Yields
    ------
    Finding
        Whether it lights; none where the way has no such heater.
    """
    name = supply.way.heater
    if not name or not supply.reaches or not supply.plan.heaters[name].as_it_flows:
        return
    heater, flow, address = supply.plan.heaters[name], flow_through(supply), f"heaters.{name}.least_flow"
    own = heater.least_flow is not None
    least = (
        planned(supply.plan, address, FLOW)
        if own
        else limit("flow at which a burner lights", USUAL_LEAST, FLOW, _USUAL)
    )
    verdict = judge(flow.shown, least.amount, "at least")
    does = "its burner does not light" if heater.source in BURNERS else "it does not heat"
    yield Finding(
        f"outlets.{supply.outlet}.burner",
        verdict,
        say(
            f"With the {{outlet}} open {{flow}} run through the {{heater}}{{low}}; below {{least}} {does}.",
            outlet=supply.outlet,
            flow=flow,
            heater=name,
            low=say(" at the least while the pump cycles") if supply.cycles else say(""),
            least=least,
        ),
        value=flow.shown,
        limit=least.amount,
        change=None
        if verdict is Verdict.FINE
        else say("Take a heater that lights at less, a store, or an outlet that gives more."),
        address=address,
        source="the heater's own least flow" if own else _USUAL,
        bound="at least",
    )
