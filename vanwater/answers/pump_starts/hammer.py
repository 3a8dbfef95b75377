"""What shutting a tap adds to the pressure for a moment, against what the way to it stands."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.statement import Amount, Range, Say, say
from vanwater.answers.core.working import Step, shown, step
from vanwater.answers.ratings.pieces import MARGIN
from vanwater.physics.surge import surge, wave_speed_of_run
from vanwater.plan.model import Plan
from vanwater.plan.ratings import rating_at
from vanwater.plan.tables import pipes
from vanwater.quantities import FLOW, PRESSURE, PRESSURE_DIFFERENCE, Array
from vanwater.system.design_pressure import design_pressures
from vanwater.system.moving_columns import MovingColumn, moving_columns
from vanwater.system.pieces import pieces

__all__ = ["Blow", "blows", "hammer_finding", "hammer_numbers"]

BY_HAND = (0.1, 0.5)
"""Time in which a hand shuts a tap, quickly and at leisure [s] (common practice)."""

FAST = 0.02
"""Time in which a solenoid valve or a lever that snaps shut does [s] (common practice)."""

SOURCE = "Joukowsky (1898); rigid column below it; closing times: common practice"


@dataclass(frozen=True, slots=True, eq=False)
class Blow:
    """What shutting one tap adds to the pressure, and what the way there stands.

    Parameters
    ----------
    column : MovingColumn
        The water that is stopped.
    wave : array, shape (runs,)
        Speed of the pressure wave in each run [m/s].
    fast, quick, leisurely : float
        Rise by a valve that snaps shut, by a quick hand, by a hand at leisure [Pa].
    before : float
        Pressure before: the switch's cut-out [Pa].
    stands : float or None
        What the weakest rated run or piece on the way stands [Pa]; None where none is known.
    weakest : str
        What that is.
    """

    column: MovingColumn
    wave: Array
    fast: float
    quick: float
    leisurely: float
    before: float
    stands: float | None
    weakest: str

    @property
    def spare(self) -> float:
        """What is left to the rating when it snaps shut [Pa]."""
        return (np.inf if self.stands is None else self.stands) - self.before - self.fast


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
    density = np.array([[one.density] for one in known])
    length, area, give = (_padded([getattr(one, name) for one in known]) for name in ("length", "area", "give"))
    there = length > 0
    wave = np.where(there, wave_speed_of_run(density, give, np.where(there, length * area, 1.0)), 0.0)
    stopped = np.where(there, np.array([[one.flow] for one in known]) / np.where(area > 0, area, 1.0), 0.0)
    times = np.array([[FAST], [BY_HAND[0]], [BY_HAND[1]]])
    rises = surge(density, wave, length, stopped, times)
    standing = _standing(plan)
    found: dict[str, Blow] = {}
    for place, one in enumerate(known):
        stands, weakest = min((standing[run] for run in one.runs if run in standing), default=(None, ""))
        before = plan.pumps[one.pump].cut_out
        assert before is not None
        fast, quick, leisurely = rises[:, place].tolist()
        blow = Blow(one, wave[place, : len(one.runs)], fast, quick, leisurely, before, stands, weakest)
        if one.outlet not in found or (blow.spare, -blow.fast) < (found[one.outlet].spare, -found[one.outlet].fast):
            found[one.outlet] = blow
    return found


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
    one = min(rated, key=lambda blow: blow.spare)
    assert one.stands is not None
    total, limit = Amount(one.before + one.quick, PRESSURE), Amount(one.stands, PRESSURE)
    told = say(
        "Shutting the {outlet} by hand adds {low} to {high} for a moment, {total} in all; the {weakest} stands "
        "{limit}. {snaps}",
        outlet=one.column.outlet,
        low=Amount(one.leisurely, PRESSURE_DIFFERENCE, 2),
        high=Amount(one.quick, PRESSURE_DIFFERENCE, 2),
        total=total,
        weakest=one.weakest,
        limit=limit,
        snaps=_snaps(one),
    )
    load = total.value / limit.value
    verdict = Verdict.FAILS if load > 1.0 else Verdict.WATCH if load > 1.0 - MARGIN else Verdict.FINE
    change = say("Shut it slowly; put an accumulator close to the tap, or a wider or shorter run before it.")
    yield Finding(
        f"accumulator.{pump}.hammer",
        verdict,
        told,
        value=total,
        limit=limit,
        change=None if verdict is Verdict.FINE else change,
        address=f"runs.{one.column.runs[-1]}.length",
        source=SOURCE,
    )


def _snaps(one: Blow) -> Say:
    """What a valve that snaps shut does, and whether that is too much."""
    fast = Amount(one.fast, PRESSURE_DIFFERENCE, 2)
    if one.spare < 0.0:
        return say("A valve that snaps shut adds {fast}, too much: fit none there.", fast=fast)
    return say("A valve that snaps shut adds {fast}.", fast=fast)


def hammer_numbers(plan: Plan) -> Mapping[str, Step]:
    """The sums of what shutting each tap adds.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    mapping of str to Step
        "accumulator.hammer.OUTLET": by a valve that snaps shut, with what a hand does beside it.
    """
    return {f"accumulator.hammer.{outlet}": _sum(blow) for outlet, blow in blows(plan).items()}


def _sum(blow: Blow) -> Step:
    one = blow.column
    speeds = one.flow / one.area
    wave, length, stopped = (row[np.newaxis] for row in (blow.wave, one.length, speeds))
    snaps = step(
        "a valve that snaps shut",
        surge,
        density=one.density,
        wave=wave,
        length=length,
        stopped=stopped,
        closing=FAST,
    )
    by_hand = Range(blow.leisurely, float(np.sqrt(blow.leisurely * blow.quick)), blow.quick, PRESSURE_DIFFERENCE, 2)
    return shown(
        f"what shutting the {one.outlet} adds",
        Amount(blow.fast, PRESSURE_DIFFERENCE),
        "The lower of the wave's full blow and of what slows the whole column evenly in the closing time.",
        facts=[
            ("a valve that snaps shut", snaps),
            ("by hand, in 0.1 s to 0.5 s", by_hand),
            ("flow stopped at most", Amount(one.flow, FLOW)),
            ("pressure before", Amount(blow.before, PRESSURE)),
        ],
        source=SOURCE,
        note=f"Column up to {one.vessel or 'the pump'}: {', '.join(one.runs)}. Losses on the way and air in the water "
        "are left out; both make it less.",
    )
