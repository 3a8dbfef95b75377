"""A rated piece beside what can come to it: its numbers, what is wrong with it, the relief valve that would help."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from vanwater.answers.core.key import Key
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.working import Part, limit, stated
from vanwater.plan.ratings import MARGIN, RatingRow
from vanwater.plan.sold import sold
from vanwater.plan.tables import PipeRow
from vanwater.quantities import PRESSURE, SHARE, TEMPERATURE
from vanwater.system.design_pressure import Cause
from vanwater.system.pieces import Piece

__all__ = ["CAUSES", "RULE", "Judged", "faulty", "least_relief", "or_less", "weakest", "worst"]

CAUSES = {
    "pump": say("when the pump's switch sticks"),
    "by-pass": say("when the pump's by-pass carries all of its flow"),
    "control": say("when the pump's speed control fails"),
    "shut taps": say("while the pump runs against shut taps"),
    "by hand": say("when the pump is worked against shut taps"),
    "held": say("from the pressure that the pump holds"),
    "mains": say("from a campsite's tap without a regulator"),
    "regulator": say("from the regulator at the mains inlet"),
    "switch": say("before the pump's switch stops it"),
    "relief": say("before the heater's relief valve opens"),
}
"""How a pressure comes about, by the cause of a design pressure."""

DRAIN = "drain"
"""Kind of row: waste pipe."""

LESS = {
    "relief": "{other} Or fit a relief valve that opens at {least} or less.",
    "mains": "{other} Or fit a regulator at the inlet, set to {least} or less.",
    "regulator": "{other} Or set the regulator at the inlet to {least} or less.",
}
"""What else helps, by the cause of a design pressure."""

RULE = "ratings of the table of pipes, a straight line between the two temperatures; margin of 10 %: common practice"
PRESSES = "the largest of what pumps, mains and relief valves bring there"


def least_relief(stands: float, us: bool = False) -> float:
    """Setting of a relief valve that leaves the margin to a rating.

    Parameters
    ----------
    stands : float
        Gauge pressure that the weakest piece stands [Pa].
    us : bool
        Whether valves are sold in psi.

    Returns
    -------
    float
        Gauge pressure, rounded down to a step [Pa].
    """
    step = sold(us).valve
    return math.floor((1.0 - MARGIN) * stands / step + 1e-6) * step


@dataclass(frozen=True, eq=False)
class Judged:
    """A rated piece and its numbers, for the plan as it is written.

    Parameters
    ----------
    piece : Piece
        The piece, where it sits, what can come to it.
    us : bool
        Whether the plan is in US units, so that valves are named in psi.
    """

    piece: Piece
    us: bool = False

    @property
    def source(self) -> str:
        """Where its rating comes from."""
        return RULE if isinstance(self.piece.row, PipeRow) else self.piece.row.source

    @property
    def plate(self) -> bool:
        """Whether only the least is known that such are made for, so that its plate decides."""
        return isinstance(self.piece.row, RatingRow) and self.piece.row.least

    @property
    def load(self) -> float:
        """Share of its rating that can come; nothing where one of both is not known."""
        return self.piece.load or 0.0

    @property
    def fault(self) -> str:
        """What is wrong with it: "drain", "hot", "weak", "close" to its rating; empty where nothing is."""
        row = self.piece.row
        if row.kind == DRAIN:
            return DRAIN
        if self.piece.design.temperature > row.hottest:
            return "hot"
        if self.load <= (1.0 if self.plate else 1.0 - MARGIN):
            return ""
        return "weak" if self.load > 1.0 else "close"

    @property
    def _name(self) -> str:
        """A hose or pipe by its run, a piece with the run that it sits in."""
        row, at = self.piece.row, self.piece.at
        return at if isinstance(row, PipeRow) else f"{row.name} at the {at}"

    @cached_property
    def pressure(self) -> Number:
        """Largest pressure that can come."""
        design = self.piece.design
        return stated(
            f"largest pressure at the {self.piece.at}",
            math.nan if design.pressure is None else design.pressure,
            PRESSURE,
            "The largest of what can come there.",
            facts=lambda: [("it comes", CAUSES[design.cause])],
            source=PRESSES,
        ).keyed(*self._key("design_pressure"))

    @cached_property
    def warmth(self) -> Number:
        """Highest warmth that can come."""
        heater = self.piece.design.heater
        return stated(
            f"highest warmth at the {self.piece.at}",
            self.piece.design.temperature,
            TEMPERATURE,
            "The set point of the heater whose water comes through, or of the thermostatic valve that holds it; else "
            "the warmest of cold water and air.",
            facts=(("heater", heater),) if heater else (),
            source="the plan",
        ).keyed(*self._key("design_temperature"))

    @cached_property
    def hottest(self) -> Number:
        """Highest warmth that it is made for."""
        return limit(f"warmth of the {self._name}", self.piece.row.hottest, TEMPERATURE, self.piece.row.source)

    @cached_property
    def stands(self) -> Number:
        """Pressure that it stands at that warmth."""
        row = self.piece.row
        return stated(
            f"what the {self._name} stands",
            math.nan if self.piece.stands is None else self.piece.stands,
            PRESSURE,
            "Its rating there, on a straight line between its two ratings.",
            facts=lambda: tuple(self._ratings()),
            source=row.source,
        ).keyed(*self._key("rated_pressure", row.key))

    def _ratings(self) -> Iterator[Part]:
        row = self.piece.row
        yield "warmth", self.warmth
        if row.rated_pressure is not None and row.rated_at is not None:
            yield "rated", (row.rated_pressure, PRESSURE)
            yield "up to", (row.rated_at, TEMPERATURE)
        if row.hot_pressure is not None:
            yield "rated when hot", (row.hot_pressure, PRESSURE)
            yield "at the most", (row.hottest, TEMPERATURE)

    @cached_property
    def spare(self) -> Number:
        """Share of its rating that is left."""
        return stated(
            f"spare of the {self._name}",
            1.0 - self.load,
            SHARE,
            "What is left of its rating, as a share.",
            facts=(("can come", self.pressure), ("stands", self.stands)),
            source="share of a whole",
        ).keyed(*self._key("spare", self.piece.row.key), digits=2)

    @cached_property
    def relief(self) -> Number:
        """Setting of a relief valve that it stands, with the margin where its rating is known well."""
        return self._setting("relief valve", "relief_setting")

    @cached_property
    def regulator(self) -> Number:
        """Setting of a regulator at the mains inlet that it stands, likewise."""
        return self._setting("regulator", "regulator_setting")

    def _setting(self, valve: str, key: str) -> Number:
        stands, step = self.stands.likely, sold(self.us).valve
        return stated(
            f"{valve} for the {self._name}",
            math.floor(stands / step) * step if self.plate else least_relief(stands, self.us),
            PRESSURE,
            "What it stands, less the margin, rounded down.",
            facts=(("stands", self.stands), *(() if self.plate else (("margin", (MARGIN, SHARE)),))),
            source="common practice",
        ).keyed(*self._key(key, self.piece.row.key), digits=2)

    def _key(self, *quantity: str) -> Key:
        table = self.piece.address.partition(".")[0]
        return (table.removesuffix("s"), self.piece.at, *quantity)


def faulty(judged: Iterable[Judged]) -> dict[tuple[str, str], list[Judged]]:
    """Those with a fault, by row and fault."""
    told: dict[tuple[str, str], list[Judged]] = {}
    for piece in judged:
        if piece.fault:
            told.setdefault((piece.piece.row.key, piece.fault), []).append(piece)
    return told


def worst(those: Sequence[Judged]) -> Judged:
    """The one with the most of its rating, of those alike the warmest."""
    return max(those, key=lambda piece: (piece.load, piece.piece.design.temperature))


def weakest(judged: Iterable[Judged]) -> Judged | None:
    """The one with the most of its rating; None where no pressure is known, or only plates would tell."""
    pressed = [piece for piece in judged if piece.piece.load is not None and not piece.plate]
    return max(pressed, key=lambda piece: piece.load, default=None)


def or_less(judged: Judged, change: Say, presses: Mapping[Cause, float]) -> Say:
    """A change, with the relief valve or the regulator that would do as well where one of them lets so much come.

    Parameters
    ----------
    judged : Judged
        The worst of those alike.
    change : Say
        What else to do.
    presses : mapping of str to float
        Greatest pressure of each cause in the plan: neither helps against what a pump brings [Pa].

    Returns
    -------
    Say
        What to do.
    """
    cause = judged.piece.design.cause
    if cause not in LESS:
        return change
    setting = judged.relief if cause == "relief" else judged.regulator
    others = max((pressure for other, pressure in presses.items() if other not in (cause, "relief")), default=0.0)
    return say(LESS[cause], other=change, least=setting) if setting.likely > others else change
