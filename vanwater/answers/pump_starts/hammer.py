"""What shutting a tap adds to the pressure for a moment, against what the way to it stands."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import Say, say
from vanwater.answers.core.working import by, planned, stated
from vanwater.physics.surge import surge, wave_speed_of_run
from vanwater.plan.model import Plan
from vanwater.plan.ratings import MARGIN, rating_at
from vanwater.plan.tables import pipes
from vanwater.quantities import PRESSURE, PRESSURE_DIFFERENCE, Array
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

SOURCE = "Joukowsky (1898); rigid column below it; closing times: common practice"


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
        Rise by a valve that snaps shut, by a quick hand, by a hand at leisure [Pa].
    before : Number
        Pressure before: the switch's cut-out [Pa].
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
    before: Number
    stands: Number | None
    weakest: str

    @property
    def spare(self) -> float:
        """What is left to the rating when it snaps shut [Pa]."""
        return (np.inf if self.stands is None else self.stands.likely) - self.before.likely - self.fast.likely

    @cached_property
    def total(self) -> Number:
        """Pressure while a quick hand shuts it; at the lower end one at leisure [Pa]."""
        column, before = self.column, self.before.likely
        return stated(
            f"pressure while a hand shuts the {column.outlet}",
            before + self.quick.values,
            PRESSURE,
            "The pressure before and what the hand adds.",
            parts=[(self.before.name, self.before), (self.quick.name, self.quick)],
            facts=[(self.leisurely.name, self.leisurely)],
            source=SOURCE,
            note=f"Column up to {column.vessel or 'the pump'}: {', '.join(column.runs)}. Losses on the way and air in "
            "the water are left out; both make it less.",
        ).keyed(
            "outlet",
            column.outlet,
            "hammer",
            "total",
            bracket=(before + self.leisurely.likely, before + self.quick.likely),
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
    return plan.once("blows", lambda: _blows(plan))


def _blows(plan: Plan) -> Mapping[str, Blow]:
    known = moving_columns(plan)
    if not known:
        return {}
    density = np.array([[column.density] for column in known])
    length, area, give = (_padded([getattr(column, name) for column in known]) for name in ("length", "area", "give"))
    there = length > 0
    wave = np.where(there, wave_speed_of_run(density, give, np.where(there, length * area, 1.0)), 0.0)
    stopped = np.where(there, np.array([[column.flow] for column in known]) / np.where(area > 0, area, 1.0), 0.0)
    rises = surge(density, wave, length, stopped, np.array([[closing] for _, closing in CLOSINGS.values()]))
    standing = _standing(plan)
    worst: dict[str, Blow] = {}
    for place, column in enumerate(known):
        waves = wave[place, : len(column.runs)]
        stands, weakest = _weakest(column, standing)
        blow = Blow(
            column=column,
            wave=waves,
            **_rises(column, waves, rises[:, place]),
            before=planned(plan, f"pumps.{column.pump}.cut_out", PRESSURE),
            stands=stands,
            weakest=weakest,
        )
        other = worst.get(column.outlet)
        if other is None or (blow.spare, -blow.fast.likely) < (other.spare, -other.fast.likely):
            worst[column.outlet] = blow
    return worst


def _rises(column: MovingColumn, wave: Array, rises: Array) -> dict[str, Number]:
    return {
        state: by(
            f"what {words} adds at the {column.outlet}",
            [rise],
            PRESSURE_DIFFERENCE,
            surge,
            density=column.density,
            wave=wave[np.newaxis],
            length=column.length[np.newaxis],
            stopped=(column.flow / column.area)[np.newaxis],
            closing=closing,
        ).keyed("outlet", column.outlet, "hammer", state)
        for (state, (words, closing)), rise in zip(CLOSINGS.items(), rises.tolist(), strict=True)
    }


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
    found, table = design_pressures(plan), pipes()
    least: dict[str, tuple[float, str]] = {}
    for name, design in found.items():
        size = plan.runs[name].size
        stands = rating_at(table[size], design.temperature) if size is not None else None
        if stands is not None:
            least[name] = (stands, name)
    for piece in pieces(plan, found):
        if piece.at in found and piece.stands is not None:
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
    total, limit = blow.total.amount, blow.stands.amount
    told = say(
        "Shutting the {outlet} by hand adds {low} to {high} for a moment, {total} in all; the {weakest} stands "
        "{limit}. {snaps}",
        outlet=blow.column.outlet,
        low=blow.leisurely.rounded(2),
        high=blow.quick.rounded(2),
        total=total,
        weakest=blow.weakest,
        limit=limit,
        snaps=_snaps(blow),
    )
    load = total.value / limit.value
    verdict = Verdict.FAILS if load > 1.0 else Verdict.WATCH if load > 1.0 - MARGIN else Verdict.FINE
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


def _snaps(blow: Blow) -> Say:
    """What a valve that snaps shut does, and whether that is too much."""
    fast = blow.fast.rounded(2)
    if blow.spare < 0.0:
        return say("A valve that snaps shut adds {fast}, too much: fit none there.", fast=fast)
    return say("A valve that snaps shut adds {fast}.", fast=fast)
