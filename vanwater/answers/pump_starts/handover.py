"""Switch, pre-charge and tightness on the day of the handover; a pump that does not stop."""

from __future__ import annotations

from collections.abc import Iterator

from vanwater.answers.core.amount import Amount, Range
from vanwater.answers.core.band import Tolerance
from vanwater.answers.core.finding import Verdict
from vanwater.answers.core.handover import Fault, Gives, Handed, Living, Means, Measure, Remember, Setting
from vanwater.answers.core.key import key_text
from vanwater.answers.core.statement import say
from vanwater.answers.core.working import limit, planned
from vanwater.answers.pump_starts.answer import PumpStarts
from vanwater.plan.model import Plan
from vanwater.plan.problems import joined
from vanwater.plan.pump import SWITCHED
from vanwater.quantities import PRESSURE, PRESSURE_DIFFERENCE

__all__ = ["handover"]

_LOST = limit("pressure lost in 30 minutes", 1e4, PRESSURE_DIFFERENCE, "common practice, from memory")


def handover(plan: Plan, answer: PumpStarts) -> Iterator[Handed]:
    """Pre-charge, cut-in and cut-out, tightness, starts."""
    numbers = answer.numbers
    yield from _gives(answer)
    gas = next((joined(("accumulators", name, "precharge")) for name in plan.accumulators), "")
    for name, pump in plan.pumps.items():
        if pump.kind not in SWITCHED:
            continue
        for end, does in (("cut_in", "starts"), ("cut_out", "stops")):
            if getattr(pump, end) is not None:
                yield Setting(
                    say("Pressure at which the {pump} {does}", pump=name, does=does),
                    planned(plan, joined(("pumps", name, end)), PRESSURE).amount,
                    "Its switch, by its own paper; read on a gauge behind the pump.",
                )
        setting = _gas(plan, answer, name)
        if setting is not None:
            yield Setting(
                say("Gas of the accumulator, today"),
                setting,
                "Hand pump, the line without pressure and a tap open; at the warmth and height of the plan.",
            )
            yield Remember("Looked after", say("Gas of the accumulator: once a year."))
            yield Measure(
                place=1,
                what=say("Gas of the accumulator"),
                how="Tyre gauge, the pump off, a tap open and the line without pressure.",
                expected=setting,
                means=(
                    Means("High: the water stutters.", "above"),
                    Means("Low: more starts. Lower each time: the membrane.", "below"),
                ),
                tolerance=Tolerance(by=1e4),
                corrects=gas,
            )
            yield Living(
                "now and then",
                say(
                    "Once a year, and when the pump begins to start and stop all the time: a tyre gauge on the valve "
                    "of the accumulator, the pump off and a tap open, reads {setting}; else add or let out air.",
                    setting=setting,
                ),
            )
        for end, place in (("cut_out", "pump stops"), ("cut_in", "pump starts")):
            if getattr(pump, end) is not None:
                yield Measure(
                    place=5,
                    what=say("Pressure at which the {place}", place=place),
                    how="Gauge behind the pump, a tap at a trickle.",
                    expected=planned(plan, joined(("pumps", name, end)), PRESSURE).amount,
                    means=(Means("The switch is set otherwise, or the gauge stands elsewhere."),),
                    tolerance=Tolerance(by=2e4),
                    corrects=joined(("pumps", name, end)),
                )
        if pump.cut_out is not None:
            yield Measure(
                place=4,
                what=say("Pressure lost in 30 minutes with the pump off"),
                how="Heater full and off, pump to its cut-out, then its isolator off, every tap shut; look at each "
                "joint. Then over night at one temperature: at most 0.3 bar.",
                expected=_LOST.keyed("handover", name, "pressure_lost", exact="common practice").amount,
                means=(Means("A joint or a tap drips, or the pump's own valves leak back."),),
                tolerance=Tolerance(side="at most"),
            )
        drawdown = [numbers[key] for key in numbers if key.endswith(".drawdown")]
        if drawdown:
            yield Measure(
                place=8,
                what=say("Water from cut-out to cut-in"),
                how="Jug, the pump off by its isolator, until the gauge shows the cut-in.",
                expected=drawdown[0].shown,
                means=(Means("Less: pre-charge, gas lost, a check valve between.", "below"),),
                tolerance=Tolerance(share=0.2),
                corrects=gas,
            )
        yield Fault(
            "The pump runs on, or starts with every tap shut",
            say(
                "Switch it off. Look for a tap that drips and for water under the floor; dry everywhere, the pump "
                "leaks back through its own valves."
            ),
        )
        return


def _gas(plan: Plan, answer: PumpStarts, pump: str) -> Amount | Range | None:
    """The pre-charge to set: as planned where that is well, else as it should be; None without an accumulator."""
    advised = answer.numbers.get(key_text(("pump", pump, "precharge_setting")))
    if advised is None or not plan.accumulators:
        return None
    said = [joined(("accumulators", name, "precharge")) for name, part in plan.accumulators.items() if part.precharge]
    well = any(each.key == f"pump_starts.{pump}.precharge" and each.verdict is Verdict.FINE for each in answer.findings)
    return planned(plan, said[0], PRESSURE).amount if said and well else advised.shown


def _gives(answer: PumpStarts) -> Iterator[Gives]:
    """What each accumulator does about the starts of its pump."""
    for cycle in answer.pumps:
        if cycle.starts is None or not cycle.stops or cycle.runs_on:
            continue
        bare = say("chatters") if cycle.bare is None else say("starts {bare}", bare=cycle.bare)
        words = say(
            "With it the {pump} starts {starts} at a trickle of {flow}; without, it {bare}.",
            pump=cycle.pump,
            starts=cycle.starts,
            flow=cycle.draw,
            bare=bare,
        )
        yield from (Gives(joined(("accumulators", name)), words) for name in cycle.vessels)
