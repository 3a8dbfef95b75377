"""What the outlets of a set give while they are open together, each number once, made when it is first asked for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, partial

import numpy as np

from vanwater.answers.core.number import Number, difference_of
from vanwater.answers.core.working import Part, stated
from vanwater.answers.outlets.outlet import MEAN_FORMULA, UNSURE, OutletSupply
from vanwater.answers.simultaneous.budget import Fastest, SetBudget, fastest_run, set_budget
from vanwater.answers.simultaneous.gains import SetGain, set_gains
from vanwater.answers.simultaneous.pump import PumpPoint, pump_points
from vanwater.answers.simultaneous.rows import NETWORK, SetRows, solved_sets
from vanwater.answers.simultaneous.wait import Waiting, set_run_off, set_waits
from vanwater.quantities import FLOW, PRESSURE, PRESSURE_DIFFERENCE, SHARE, TEMPERATURE, Array
from vanwater.system.batch import Batch, Unsure

__all__ = ["OpenSet", "open_sets", "worst"]

STEADY = "The flows at which pressures and losses balance in the whole network"
AT_CUT_OUT = "The flows of the whole network with the cut-out held behind the pump, from which on they fall"
MEAN = (
    "The mean over a cycle of the pump's switch: the whole network with the pressures from cut-in to cut-out held "
    "behind the pump, each for the time that the water held about it takes to be filled in and drawn"
)


@dataclass(frozen=True, eq=False)
class OpenSet:
    """What one set of outlets gives, open together.

    Parameters
    ----------
    rows : SetRows
        The solve.
    alone : mapping of str to OutletSupply
        Its outlets, each open alone.
    """

    rows: SetRows
    alone: Mapping[str, OutletSupply]

    @property
    def name(self) -> str:
        """Name of the set."""
        return self.rows.name

    @property
    def outlets(self) -> tuple[str, ...]:
        """The outlets that are open."""
        return tuple(self.alone)

    def others(self, outlet: str) -> tuple[str, ...]:
        """The outlets that are open besides one."""
        return tuple(other for other in self.alone if other != outlet)

    @cached_property
    def weakest(self) -> str:
        """The outlet that falls furthest short of its wish; where none does, that keeps least of its own flow."""
        return min(self.alone, key=self._strength)

    @property
    def strength(self) -> tuple[bool, float]:
        """Whether all wishes are met, and what the weakest outlet has of its wish, else of its flow alone."""
        return self._strength(self.weakest)

    def _strength(self, outlet: str) -> tuple[bool, float]:
        wanted, flow = self.rows.plan.outlets[outlet].wanted, self.flow[outlet].likely
        if wanted is not None and flow < wanted:
            return False, flow / wanted
        return True, flow / max(self.alone[outlet].flow.likely, 1e-12)

    def cycles(self, outlet: str) -> bool:
        """Whether the switch of its pump stops it while the set is open."""
        pump = self.alone[outlet].way.pump
        return bool(pump) and bool(self.pumps[pump].cycles)

    def swings(self, outlet: str) -> bool:
        """Whether its flow has a mean of a cycle: its pump cycles, from a cut-in that is decided."""
        return self.cycles(outlet) and self.rows.plan.pumps[self.alone[outlet].way.pump].cut_in is not None

    def lowest(self, outlet: str) -> Number:
        """The flow that an outlet can count on: the low end of the swing while the pump cycles."""
        return self.least[outlet] if self.cycles(outlet) else self.flow[outlet]

    @cached_property
    def flow(self) -> Mapping[str, Number]:
        """Flow at each outlet."""
        return {
            outlet: self.rows.number(
                f"flow at the {outlet}",
                self.rows.along(self.rows.solved.flows.outlet(outlet)),
                FLOW,
                f"{self._how(outlet)}, every row at once; the range combines what each unsure input moves, one at a "
                "time, by root-sum-square.",
                outlet,
                "flow",
                facts=partial(self._beside, outlet),
            )
            for outlet in self.alone
        }

    @cached_property
    def least(self) -> Mapping[str, Number]:
        """Least flow at each outlet: at cut-in while the pump cycles, else its steady flow."""
        return self._ends_of_swing("least", "cut-in", self.rows.cycling.least)

    @cached_property
    def most(self) -> Mapping[str, Number]:
        """Most flow at each outlet: at cut-out while the pump cycles, else its steady flow."""
        return self._ends_of_swing("most", "cut-out", self.rows.cycling.most)

    def _ends_of_swing(self, word: str, at: str, flows: Array) -> Mapping[str, Number]:
        places = [outlet.name for outlet in self.rows.solved.network.outlets]
        return {
            outlet: self.rows.number(
                f"{word} flow at the {outlet}",
                self.rows.along(flows[:, places.index(outlet)]),
                FLOW,
                f"The whole network with {at} held behind the pump, where the pump cycles.",
                outlet,
                "flow",
                word,
            )
            for outlet in self.alone
        }

    def _how(self, outlet: str) -> str:
        if not self.cycles(outlet):
            return STEADY
        return MEAN if self.swings(outlet) else AT_CUT_OUT

    def _beside(self, outlet: str) -> Sequence[Part]:
        facts: list[Part] = [("pressure before it", self.pressure[outlet])]
        if self.swings(outlet):
            facts += [
                ("formula", MEAN_FORMULA),
                ("least while the pump cycles", self.least[outlet]),
                ("most while the pump cycles", self.most[outlet]),
            ]
        facts += [(point.discharge.name, point.discharge) for point in self.pumps.values()]
        facts.append(("alone it gives", self.alone[outlet].flow))
        if outlet == self.weakest:
            for hung in self.flow[outlet].influences:
                facts += [
                    (f"with {hung.name} at the low end", (hung.low, FLOW)),
                    (f"with {hung.name} at the high end", (hung.high, FLOW)),
                ]
            facts.append(("measure first", self.measure_first.measure))
        return facts

    @cached_property
    def pressure(self) -> Mapping[str, Number]:
        """Pressure before each outlet."""
        return {
            outlet: self.rows.number(
                f"pressure before the {outlet}",
                np.maximum(self.rows.along(self.rows.solved.flows.at(outlet)), 0.0),
                PRESSURE,
                "Gauge pressure in the whole network just before the outlet; none where no water stands there.",
                outlet,
                "pressure",
            )
            for outlet in self.alone
        }

    @cached_property
    def lost(self) -> Mapping[str, Number]:
        """Share of what each outlet gives alone that the others take from it."""
        return {outlet: self._lost(outlet) for outlet in self.alone}

    def _lost(self, outlet: str) -> Number:
        flow, alone = self.flow[outlet], self.alone[outlet].flow
        kept = np.divide(flow.values, alone.values, out=np.ones(flow.values.shape), where=alone.values > 0.0)
        return self.rows.number(
            f"share of its flow that the {outlet} loses",
            1.0 - kept,
            SHARE,
            "What it gives less than alone, over what it gives alone.",
            outlet,
            "lost",
            facts=(("together", flow), ("alone", alone)),
            source="share of a whole",
            least=-np.inf,
        )

    @cached_property
    def temperature(self) -> Mapping[str, Number]:
        """What comes at each mixed outlet whose tap was set for it alone and is left so."""
        return {outlet: self._temperature(outlet) for outlet in self.rows.taps}

    def _temperature(self, outlet: str) -> Number:
        tap = self.rows.taps[outlet]
        other = "cold" if tap.side == "hot" else "hot"
        side = tap.side if tap.together >= 0 else other
        beyond: tuple[Part, ...] = (("beyond what was solved", "yes"),) if tap.beyond else ()
        return stated(
            f"temperature at the {outlet} with {self.name} open, its tap left",
            tap.comes,
            TEMPERATURE,
            "The tap is a fixed throttle in one side. The set is solved at several hot shares; where that throttle "
            "takes just the pressure between the two sides, the tap stands as it was left. The other taps are set as "
            "wanted.",
            facts=(
                ("formula", "p_hot(x) − p_cold(x) = ±C q²,  T = T_cold + x (T_hot − T_cold)"),
                ("set for", (tap.wanted, TEMPERATURE)),
                ("hot share as set", (tap.share, SHARE)),
                ("hot share that comes", (tap.shifted, SHARE)),
                (f"as set, the tap takes in the {tap.side} side", (tap.alone, PRESSURE_DIFFERENCE)),
                (
                    f"for the wanted temperature it must be turned until it takes in the {side} side",
                    (abs(tap.together), PRESSURE_DIFFERENCE),
                ),
                *beyond,
            ),
            source="mixing of two flows; balance of the whole network",
            note="A throttle whose loss goes with the square of its flow; cubic through four of the shares.",
        ).keyed("set", self.name, outlet, "temperature", digits=2)

    def shift(self, outlet: str) -> Number:
        """How far a tap that is left comes off what it was set for."""
        tap = self.rows.taps[outlet]
        return stated(
            f"how far the temperature at the {outlet} moves with {self.name} open",
            abs(tap.comes - tap.wanted),
            difference_of(TEMPERATURE),
            "What comes with the tap left as it was, against what it was set for.",
            facts=(("comes", self.temperature[outlet]), ("set for", (tap.wanted, TEMPERATURE))),
            source="difference",
        ).keyed("set", self.name, outlet, "temperature_shift", digits=2)

    @cached_property
    def speed(self) -> Mapping[str, Fastest]:
        """Where the water runs fastest on the way to each outlet."""
        return {outlet: fastest_run(self.rows, outlet) for outlet in self.alone}

    @cached_property
    def budget(self) -> SetBudget:
        """Where the pressure goes on the way to the weakest outlet."""
        return set_budget(self.rows, self.weakest, self.pressure[self.weakest])

    @cached_property
    def wait(self) -> Mapping[str, Waiting]:
        """How long each hot outlet waits, and what runs off meanwhile."""
        return set_waits(self.rows)

    @cached_property
    def run_off(self) -> Number | None:
        """Cooled water that runs off in all; None where no outlet is hot."""
        return set_run_off(self.rows)

    @cached_property
    def pumps(self) -> Mapping[str, PumpPoint]:
        """Where each pump works, what it draws and takes a day; empty where gravity drives the water."""
        return pump_points(self.rows)

    @property
    def measure_first(self) -> Unsure:
        """The input that is worth measuring first."""
        return next(each for each in UNSURE if each.key == self.flow[self.weakest].influences[0].address)

    @cached_property
    def ends(self) -> tuple[Number, Number]:
        """The weakest outlet's flow with the input that it hangs on most at its ends, the lower first."""
        flow = self.flow[self.weakest]
        most = flow.influences[0]

        def end(value: float, which: str) -> Number:
            return stated(
                f"{flow.name}, {most.name} at one end",
                value,
                FLOW,
                "The flow with that input alone at the end of its range, everything else as planned.",
                facts=(("as planned", flow),),
                source=NETWORK,
            ).keyed(*flow.key, which, most.address, exact="one end of an unsure input", digits=2)

        return end(min(most.low, most.high), "lowest"), end(max(most.low, most.high), "highest")

    @cached_property
    def gains(self) -> Mapping[str, tuple[SetGain, ...]]:
        """What would bring each outlet more, most first."""
        return {outlet: set_gains(self.rows, self.flow, outlet) for outlet in self.alone}


def open_sets(batch: Batch, alone: Mapping[str, OutletSupply]) -> tuple[OpenSet, ...]:
    """Solve the sets of outlets that a plan says are open together.

    Parameters
    ----------
    batch : Batch
        The plan with its unsure inputs and remedies as rows, as each outlet alone was solved on.
    alone : mapping of str to OutletSupply
        The outlets whose way is decided.

    Returns
    -------
    tuple of OpenSet
        Sets with an outlet that is not decided are left out.
    """
    solved = solved_sets(batch, {outlet: supply.way for outlet, supply in alone.items()})
    return tuple(OpenSet(rows, {outlet: alone[outlet] for outlet in rows.ways}) for rows in solved)


def worst(sets: Sequence[OpenSet]) -> OpenSet:
    """The set whose weakest outlet falls furthest short of its wish; where none does, keeps least of its own flow.

    Parameters
    ----------
    sets : sequence of OpenSet
        At least one.

    Returns
    -------
    OpenSet
        The first of equals.
    """
    return min(sets, key=lambda opened: opened.strength)
