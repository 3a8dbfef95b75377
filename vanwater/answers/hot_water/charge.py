"""One charge of a heater with a store: litres, showers one after the other, the wait for the next, two taps at once."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.number import Number
from vanwater.answers.core.spread import UnsureRows
from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.working import stated, step
from vanwater.physics import heater, instant
from vanwater.quantities import DURATION, VOLUME, Array
from vanwater.system.batch import Batch
from vanwater.system.hot_water_demand import HeaterNumbers, HotWaterUse, hot_water_uses
from vanwater.system.next_shower import wait_for_next
from vanwater.system.stores import outlet_of
from vanwater.system.water_temperature import inlet

__all__ = ["Charge", "at_once", "charge_findings", "charge_of", "lasting"]

_SOURCE = "heat balance; stirring by common practice"

SHOWER_TIME = 240.0
"""Time a shower takes with the water off while soaping, s, where only litres are said (common practice)."""

ENDS: Mapping[str, tuple[str, float]] = {
    "mixed": ("fully mixed", 1.0),
    "plug": ("not mixed at all", 0.0),
}
"""Both ends of how far cold and hot mix in a heater while it is drawn: in words, and the share that is stirred."""


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Charge:
    """What one charge of a heater gives.

    Parameters
    ----------
    litres : Number
        Mixed water from one charge, element off: likely, between both ends.
    ends : mapping of str to Number
        The same fully mixed and not mixed at all: "mixed" and "plug".
    showers : Number
        Whole uses one after the other without a wait, element on: likely, between both ends.
    wait : Number or None
        From then until the next is warm; None while the power is not decided, or where it never is.
    sure : float
        Mixed water of a charge that is stirred as far as is likely [m³].
    meanwhile : float
        Mixed water that the element warms during one use [m³].
    """

    litres: Number
    ends: Mapping[str, Number]
    showers: Number
    wait: Number | None
    sure: float
    meanwhile: float


def lasting(use: HotWaterUse) -> Array:
    """How long a use takes, a minute at least."""
    return np.where(np.isfinite(use.duration), np.maximum(use.duration, 60.0), SHOWER_TIME)


def charge_of(
    name: str,
    use: HotWaterUse,
    numbers: HeaterNumbers,
    wanted: Number,
    temperature: Number,
    pairs: Sequence[UnsureRows],
) -> Charge:
    """What one charge of a heater gives the use that it is judged by.

    Parameters
    ----------
    name : str
        The heater.
    use : HotWaterUse
        The use.
    numbers : HeaterNumbers
        The heater along the rows.
    wanted, temperature : Number
        Mixed water of one use, and its temperature.
    pairs : sequence of UnsureRows
        Where the unsure inputs stand.

    Returns
    -------
    Charge
        With the ends of all mixed and not mixed at all.
    """

    def litres_of(words: str, mixing: Array | float) -> Number:
        return step(
            f"mixed water from one charge{words}",
            heater.charge_volume,
            volume=numbers.volume,
            cold=numbers.cold,
            hot=numbers.hot,
            mixed=temperature,
            mixing=mixing,
        )

    ends = {
        end: litres_of(f", {words}", mixing).keyed("heater", name, "charge", end, digits=2)
        for end, (words, mixing) in ENDS.items()
    }
    litres = litres_of("", numbers.mixing).keyed(
        "heater", name, "charge", "likely", pairs=pairs, bracket=_between(ends), digits=2
    )
    warmed = step(
        "mixed water that the element warms meanwhile",
        instant.instant_flow,
        power=np.nan_to_num(numbers.power),
        cold=numbers.cold,
        warm=temperature,
    )
    long = lasting(use)

    def row_of_showers(charge: Number) -> Number:
        return step(
            f"{use.name} one after the other",
            heater.showers_in_a_row,
            charge=charge,
            shower=wanted,
            lasting=long,
            pause=0.0,
            reheating=warmed,
        )

    showers = row_of_showers(litres).keyed(
        "heater", name, "in_a_row", pairs=pairs, bracket=_between({end: row_of_showers(ends[end]) for end in ends})
    )
    return Charge(
        litres=litres,
        ends=ends,
        showers=showers,
        wait=_wait(name, use, numbers, wanted, temperature, showers, pairs),
        sure=float(min(litres.values[row] for row in (0, *(pair.high for pair in pairs)))),
        meanwhile=float(warmed.likely * long[0]),
    )


def _between(ends: Mapping[str, Number]) -> tuple[float, float]:
    return ends["mixed"].likely, ends["plug"].likely


def _wait(
    name: str,
    use: HotWaterUse,
    numbers: HeaterNumbers,
    wanted: Number,
    temperature: Number,
    showers: Number,
    pairs: Sequence[UnsureRows],
) -> Number | None:
    count = showers.values
    if not np.isfinite(numbers.power[0]) or not 1.0 <= count[0] < np.inf:
        return None
    before = np.where(np.isfinite(count), np.maximum(count, 1.0), 1.0)
    before[[row for pair in pairs for row in (pair.low, pair.high)]] = count[0]  # as many as are told
    waited = wait_for_next(numbers, wanted.values, temperature.values, lasting(use), before)
    if not np.isfinite(waited[0]):
        return None
    whole = heater.recovery_time(numbers.volume, numbers.cold, numbers.hot, numbers.power)
    return stated(
        f"wait until the next {use.name} is warm",
        np.where(np.isnan(waited), whole, waited),
        DURATION,
        "The heater in layers that move with its water: drawn so often, then heated until what lies hot on top is "
        "enough for one more, or all of it is hot.",
        facts=[("taken before", showers), ("mixed water of one", wanted), ("its temperature", temperature)],
        source="heat balance of a plug and of a stirred part, heat rising from the element",
    ).keyed("heater", name, "wait", pairs=pairs, least=0.0, digits=2)


def charge_findings(batch: Batch, name: str, use: str, wanted: Number, charge: Charge) -> Iterator[Finding]:
    """The findings on whether a charge is enough: for one use, and for outlets that are open together.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    name, use : str
        The heater, and the use that it is judged by.
    wanted : Number
        Mixed water of one use.
    charge : Charge
        What one charge gives.

    Yields
    ------
    Finding
        Fails beyond what the heater gives at best, heated meanwhile; watched beyond a charge that is stirred far.
    """
    sets = at_once(batch, name, use)
    verdict, held = _held(wanted, charge), {together: _held(need, charge) for together, (_, need) in sets.items()}
    enough = [sets[together] for together, each in held.items() if each is Verdict.FINE]
    most = max(enough, key=lambda each: each[1].likely, default=None)
    yield Finding(
        f"hot_water.{name}.enough",
        verdict,
        say(
            "For the {use} {wanted} of mixed water are drawn; one charge makes {charge}. {row}{enough}",
            use=use,
            wanted=wanted,
            charge=charge.litres,
            row=_row(charge),
            enough=say(" Open together, the {outlets} take as much as {need} of it.", outlets=most[0], need=most[1])
            if most
            else say(""),
        ),
        change=None if verdict is Verdict.FINE else say("Take a larger heater, or use less warm water at a time."),
        address=f"heaters.{name}.volume",
        source=_SOURCE,
    )
    for together, each in held.items():
        if each is not Verdict.FINE:
            outlets, need = sets[together]
            yield Finding(
                f"hot_water.{name}.at_once.{together}",
                each,
                say(
                    "Open together, the {outlets} take {need} as warm as for the {use}; one charge of the {heater} "
                    "makes {charge}.",
                    outlets=outlets,
                    need=need,
                    use=use,
                    heater=name,
                    charge=charge.litres,
                ),
                change=say("Let the heater recover between the two, or take a larger one."),
                address=f"heaters.{name}.volume",
                source=_SOURCE,
            )


def _held(need: Number, charge: Charge) -> Verdict:
    if need.likely > charge.ends["plug"].likely + charge.meanwhile:
        return Verdict.FAILS
    return Verdict.WATCH if need.likely > charge.sure else Verdict.FINE


def _row(charge: Charge) -> Say:
    """How many one after the other, and the wait for the next."""
    count = charge.showers.likely
    if count < 1.0:
        return say("It is likely not enough for one.")
    if np.isinf(count):
        return say("Heated meanwhile, it never runs out.")
    times = say("That is likely enough for {count} in a row", count=charge.showers)
    if charge.wait is None:
        return say("{times}.", times=times)
    return say("{times}; the next is warm after {wait}.", times=times, wait=charge.wait)


def at_once(batch: Batch, name: str, use: str) -> Mapping[str, tuple[tuple[str, ...], Number]]:
    """What outlets that are open together take from one charge, each for its largest warm use.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    name, use : str
        The heater, and the use at whose temperature its litres are told.

    Returns
    -------
    mapping of str to (outlets, Number)
        By the set; only those of which two or more outlets want warm water of it.
    """
    uses = hot_water_uses(batch, name)
    mixed, cold = next(each.mixed for each in uses if each.name == use), inlet(batch, name)
    largest: dict[str, HotWaterUse] = {}
    for each in sorted(uses, key=lambda each: float(each.volume[0])):
        if each.volume[0] > 0.0:
            largest[outlet_of(batch.plan, each.name)] = each
    sets: dict[str, tuple[tuple[str, ...], Number]] = {}
    for together, opened in batch.plan.together.items():
        outlets = tuple(outlet for outlet in opened.outlets if outlet in largest)
        if len(outlets) < 2:
            continue
        parts = {outlet: largest[outlet].volume * (largest[outlet].mixed - cold) / (mixed - cold) for outlet in outlets}
        sets[together] = (
            outlets,
            stated(
                f"water as warm as for the {use} that the outlets of {together} take",
                np.sum(list(parts.values()), axis=0),
                VOLUME,
                "What the largest warm use of each takes, as much heat told in water of one temperature.",
                parts=[(outlet, (part, VOLUME)) for outlet, part in parts.items()],
                source="heat balance of mixing",
            ).keyed("heater", name, "at_once", together, digits=2),
        )
    return sets
