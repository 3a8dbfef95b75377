"""What shutting a tap adds to the pressure for a moment, against what the way to it stands."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.working import by, planned, stated, step
from vanwater.physics.hammer import effective_closing
from vanwater.physics.surge import surge, wave_speed_of_run
from vanwater.plan.model import Plan
from vanwater.plan.ratings import RatingRow, rating_at
from vanwater.plan.tables import pipes
from vanwater.quantities import PRESSURE, PRESSURE_DIFFERENCE, SHARE, Array
from vanwater.system.design_pressure import design_pressures
from vanwater.system.moving_columns import MovingColumn, moving_columns
from vanwater.system.pieces import pieces

__all__ = ["Blow", "blows", "hammer_finding"]

BY_HAND = (0.1, 0.5)
"""Time in which a hand shuts a tap, quickly and at leisure [s] (common practice)."""

FAST = 0.02
"""Time in which a solenoid valve or a lever that snaps shut does [s] (common practice)."""

CLOSINGS = {
    "fast": ("a valve that snaps shut", FAST),
    "quick": ("a quick hand", BY_HAND[0]),
    "leisurely": ("a hand at leisure", BY_HAND[1]),
}
"""How a tap is shut: state of its number, in words, in what time [s]."""

MOMENT = 1.5
"""What a piece stands for a moment, as a multiple of its working pressure: it is tested to about so much, and plastic
pipe may see it again and again as a surge (common practice; AWWA C901, from memory)."""

GENTLE = 2.0
"""A tap that stops the water early raises no more than evenly falling flow in so many times the time [-]."""

SOURCE = "Joukowsky (1898), Michaud (1878), runs in a row by characteristics; closing times: common practice"


@dataclass(frozen=True, eq=False, kw_only=True)
class Blow:
    """What shutting one tap adds to the pressure, and what the way there stands.

    Parameters
    ----------
    column : MovingColumn
        The water that is stopped.
    wave : array, shape (runs,)
        Speed of the pressure wave in each run [m/s].
    fast, quick, leisurely : Number
        Rise by a valve that snaps shut, by a quick hand, by a hand at leisure, its flow falling evenly [Pa]; the ends
        of their ranges are a tap that stops it early and one that stops it late.
    late : Number
        Rise by a quick hand on a tap that stops the water late [Pa].
    before : Number
        Pressure before: the switch's cut-out where an accumulator holds it, else the pump's without flow [Pa].
    stands : Number or None
        What the weakest rated run or piece on the way stands [Pa]; None where none is known.
    weakest : str
        What that is.
    """

    column: MovingColumn
    wave: Array
    fast: Number
    quick: Number
    leisurely: Number
    late: Number
    before: Number
    stands: Number | None
    weakest: str

    @property
    def spare(self) -> float:
        """What is left to the rating when a quick hand shuts a tap that stops the water late [Pa]."""
        return (np.inf if self.stands is None else self.stands.likely) - self.before.likely - self.late.likely

    @cached_property
    def total(self) -> Number:
        """Pressure while a quick hand shuts it; from a hand at leisure to a tap that stops the water late [Pa]."""
        column, before = self.column, self.before.likely
        assert self.leisurely.range is not None
        return stated(
            f"pressure while a hand shuts the {column.outlet}",
            before + self.quick.values,
            PRESSURE,
            "The pressure before and what the hand adds.",
            parts=[(self.before.name, self.before), (self.quick.name, self.quick)],
            facts=[(self.leisurely.name, self.leisurely), (self.late.name, self.late)],
            source=SOURCE,
            note=f"Column up to {column.vessel or 'the pump'}: {', '.join(column.runs)}. Losses on the way and air in "
            "the water are left out; both make it less.",
        ).keyed(
            "outlet",
            column.outlet,
            "hammer",
            "total",
            bracket=(before + self.leisurely.range[0], before + self.late.likely),
        )


def blows(plan: Plan) -> Mapping[str, Blow]:
    """What shutting each tap behind a switched pump adds to the pressure.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    mapping of str to Blow
        By outlet; of the two sides of a mixing tap the one that leaves less to its rating.
    """
    return plan.once("blows", lambda: _blows(plan), alone=True)


def _blows(plan: Plan) -> Mapping[str, Blow]:
    known = moving_columns(plan)
    if not known:
        return {}
    density = np.array([[column.density] for column in known])
    length, area, give = (_padded([getattr(column, name) for column in known]) for name in ("length", "area", "give"))
    there = length > 0
    wave = np.where(there, wave_speed_of_run(density, give, np.where(there, length * area, 1.0)), 0.0)
    stopped = np.where(there, np.array([[column.flow] for column in known]) / np.where(area > 0, area, 1.0), 0.0)
    even = np.array([[closing] * len(known) for _, closing in CLOSINGS.values()])
    late = effective_closing(even, np.array([column.share for column in known]))
    rises = surge(density, wave, length, stopped, np.stack([even, GENTLE * even, late]))
    standing = _standing(plan)
    worst: dict[str, Blow] = {}
    for place, column in enumerate(known):
        waves = wave[place, : len(column.runs)]
        stands, weakest = _weakest(column, standing)
        blow = Blow(
            column=column,
            wave=waves,
            **_rises(column, waves, rises[:, :, place]),
            before=_before(plan, column),
            stands=stands,
            weakest=weakest,
        )
        other = worst.get(column.outlet)
        if other is None or (blow.spare, -blow.fast.likely) < (other.spare, -other.fast.likely):
            worst[column.outlet] = blow
    return worst


def _rises(column: MovingColumn, wave: Array, rises: Array) -> dict[str, Number]:
    def rise(name: str, value: float, closing: float | Number) -> Number:
        return by(
            f"what {name} adds at the {column.outlet}",
            value,
            PRESSURE_DIFFERENCE,
            surge,
            density=column.density,
            wave=wave[np.newaxis],
            length=column.length[np.newaxis],
            stopped=(column.flow / column.area)[np.newaxis],
            closing=closing,
        )

    at = "outlet", column.outlet, "hammer"
    told = {
        state: rise(words, even, closing).keyed(*at, state, bracket=(early, late))
        for (state, (words, closing)), (even, early, late) in zip(CLOSINGS.items(), rises.T.tolist(), strict=True)
    }
    share = stated(
        f"what the open tap before the {column.outlet} takes itself",
        column.share,
        SHARE,
        "Its loss as a share of the pressure that drives the water; a mixing tap's of the table where the plan counts "
        "none.",
        source="loss of the fittings counted, else common practice: unsure by half",
    ).keyed(*at, "tap_share", digits=2)
    words, closing = CLOSINGS["quick"]
    late = step(
        f"time in which a tap that {words} shuts stops the water", effective_closing, closing=closing, share=share
    )
    told["late"] = rise(f"{words} on a tap that stops it late", float(rises[2, 1]), late).keyed(*at, "late")
    return told


def _before(plan: Plan, column: MovingColumn) -> Number:
    """The pressure that the blow comes on top of."""
    cut_out = planned(plan, f"pumps.{column.pump}.cut_out", PRESSURE)
    if column.before == cut_out.likely:
        return cut_out
    return stated(
        f"pressure of the {column.pump} without flow",
        column.before,
        PRESSURE,
        "The start of its curve at its own volts: with no accumulator to hold the line it pushes on while the tap "
        "shuts, until its switch has stopped it.",
        facts=[("cut-out", cut_out)],
        source="the pump's curve",
    ).keyed("outlet", column.outlet, "hammer", "before")


def _weakest(column: MovingColumn, standing: Mapping[str, tuple[float, str]]) -> tuple[Number | None, str]:
    stands, weakest = min((standing[run] for run in column.runs if run in standing), default=(None, ""))
    if stands is None:
        return None, ""
    number = stated(
        f"what the way to the {column.outlet} stands",
        stands,
        PRESSURE,
        "The least of the ratings of its runs and pieces at their warmth.",
        facts=[("the weakest", weakest)],
        source="tables of pipe sizes and of ratings",
    )
    return number.keyed("outlet", column.outlet, "stands"), weakest


def _padded(rows: Sequence[Array]) -> Array:
    """Rows of unlike length side by side, filled up with none."""
    wide = np.zeros((len(rows), max(map(len, rows))))
    for place, row in enumerate(rows):
        wide[place, : len(row)] = row
    return wide


def _standing(plan: Plan) -> Mapping[str, tuple[float, str]]:
    """What each run stands at its warmth with the rated pieces in it, and what is the weakest."""
    designs, table = design_pressures(plan), pipes()
    least: dict[str, tuple[float, str]] = {}
    for name, design in designs.items():
        size = plan.runs[name].size
        stands = rating_at(table[size], design.temperature) if size is not None else None
        if stands is not None:
            least[name] = (stands, name)
    for piece in pieces(plan, designs):
        if (
            piece.at in designs
            and piece.stands is not None
            and not (isinstance(piece.row, RatingRow) and piece.row.least)
        ):
            least[piece.at] = min(least.get(piece.at, (np.inf, "")), (piece.stands, piece.row.key))
    return least


def hammer_finding(plan: Plan, pump: str) -> Iterator[Finding]:
    """The finding on the tap whose shutting leaves least to the ratings.

    Parameters
    ----------
    plan : Plan
        The plan.
    pump : str
        A pump whose switch is decided.

    Yields
    ------
    Finding
        One; none where no tap's way is decided or no rating on the way is known.
    """
    rated = [blow for blow in blows(plan).values() if blow.column.pump == pump and blow.stands is not None]
    if not rated:
        return
    blow = min(rated, key=lambda blow: blow.spare)
    assert blow.stands is not None
    total, stands, moment = blow.total.amount, blow.stands.amount, _moment(blow.stands, blow.column.outlet)
    limit, latest = moment.amount, blow.before.likely + blow.late.likely
    told = say(
        "Shutting the {outlet} with a quick hand adds {quick} for a moment, {late} where its tap chokes only at the "
        "end of its turn; {total} in all. The {weakest} stands {stands} for long, some {moment} for a moment. {snaps}",
        outlet=blow.column.outlet,
        quick=blow.quick.rounded(2),
        late=blow.late.rounded(2),
        total=blow.total,
        weakest=blow.weakest,
        stands=stands,
        moment=limit,
        snaps=_snaps(blow),
    )
    verdict = Verdict.FINE
    if total.value > limit.value:
        verdict = Verdict.FAILS
    elif total.value > stands.value or latest > limit.value:
        verdict = Verdict.WATCH
    change = say("Shut it slowly; put an accumulator close to the tap, or a wider or shorter run before it.")
    yield Finding(
        f"pump_starts.{pump}.hammer",
        verdict,
        told,
        value=total,
        limit=limit,
        change=None if verdict is Verdict.FINE else change,
        address=f"runs.{blow.column.runs[-1]}.length",
        source=SOURCE,
    )


def _moment(stands: Number, outlet: str) -> Number:
    """What the weakest piece stands for a moment."""
    return stated(
        f"what the way to the {outlet} stands for a moment",
        MOMENT * stands.likely,
        PRESSURE,
        f"{MOMENT:g} times what its weakest piece stands for long.",
        facts=[("stands for long", stands)],
        source="common practice; AWWA C901 on surges, from memory",
    ).keyed("outlet", outlet, "stands_for_a_moment", digits=2)


def _snaps(blow: Blow) -> Say:
    """What a valve that snaps shut does, and whether that is too much."""
    fast = blow.fast.rounded(2)
    if blow.stands is not None and blow.before.likely + blow.fast.likely > MOMENT * blow.stands.likely:
        return say("A valve that snaps shut adds {fast}, too much: fit none there.", fast=fast)
    return say("A valve that snaps shut adds {fast}.", fast=fast)
