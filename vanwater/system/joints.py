"""What holds on what: fittings on hose and pipe, ends of runs in connections, threads on threads."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from vanwater.plan.joint import Joint
from vanwater.plan.model import Plan
from vanwater.plan.supply import Run
from vanwater.plan.tables import FittingRow, PipeRow, fittings, joints, pipes
from vanwater.system.exposed import wall_material

__all__ = ["End", "adapters", "ends", "fits", "holds", "joined_as", "mates", "usual_joint"]

ANY = ("any", "none")
"""Joints of fittings that are made for every hose and pipe, or are no joint at all."""

BARB = (0.95, 1.12)
"""Size of a barb over the bore of the hose that holds on it, least and most (common practice)."""

SAME_OUTSIDE = 0.1e-3
"""By how much the outside of a pipe may differ from its joint, m: less than 15.9 mm from 16 mm (common practice)."""

OVER_NOMINAL = 3.175e-3
"""By how much the outside of PEX by inches is larger than its nominal size, m: 1/8 in (ASTM F876)."""

SOFT = ("pvc soft", "silicone", "epdm")
"""Materials of soft hose, which holds on a barb with a clamp (common practice)."""

PLACES = ("tanks", "pumps", "mains", "heaters", "tees", "mixers", "outlets")
"""Tables of pieces that may say their connection."""


@dataclass(frozen=True, slots=True)
class End:
    """One end of a run.

    Parameters
    ----------
    run : str
        The run.
    which : {"start", "end"}
        Which of its ends.
    place : str
        The piece that it leads to.
    own, port : str or None
        Connections of the run's end and of the piece, as they are written.
    """

    run: str
    which: Literal["start", "end"]
    place: str
    own: str | None
    port: str | None


def ends(plan: Plan, run: str) -> Iterator[End]:
    """Both ends of a run.

    Parameters
    ----------
    plan : Plan
        The plan.
    run : str
        Name of the run.

    Yields
    ------
    End
        Start, then end.
    """
    planned = plan.runs[run]
    yield End(run, "start", planned.start, planned.start_joint, _port(plan, planned.start))
    yield End(run, "end", planned.end, planned.end_joint, _port(plan, planned.end))


def _port(plan: Plan, place: str) -> str | None:
    for table in PLACES:
        parts = getattr(plan, table)
        if place in parts:
            joint: str | None = parts[place].joint
            return joint
    return None


def joined_as(run: Run) -> PipeRow | None:
    """The stock size as which a run is joined.

    Parameters
    ----------
    run : Run
        The run.

    Returns
    -------
    PipeRow or None
        Its own one. Of a bore of its own a hose where its material is soft, and the push-fit tube of its material and
        outside where stock has one (common practice); None else.
    """
    if run.size is not None:
        return pipes()[run.size]
    if run.material in SOFT:
        return next(pipe for pipe in pipes().values() if pipe.kind == "hose")
    alike = (pipe for pipe in _stock_of(run) if _takes("push-fit", pipe) and pipe.outside is not None)
    return next((pipe for pipe in alike if abs((pipe.outside or 0.0) - (run.outside or 0.0)) < SAME_OUTSIDE), None)


def usual_joint(run: Run) -> str | None:
    """The way in which a run's hose or pipe is usually joined.

    Parameters
    ----------
    run : Run
        The run.

    Returns
    -------
    str or None
        Of a stock size the first that its row of the table names: "barb" for a hose, "push-fit", "crimp", "press",
        "compression", "ring seal" ...; of a bore of its own "barb" or "push-fit", see :func:`joined_as`.
    """
    pipe = joined_as(run)
    if pipe is None:
        return None
    return pipe.joint[0] if run.size is not None or pipe.kind == "hose" else "push-fit"


def _stock_of(run: Run) -> tuple[PipeRow, ...]:
    """Stock pipe whose wall is made of the material of a run of its own bore."""
    known = pipes().values() if run.material is not None else ()
    return tuple(pipe for pipe in known if pipe.kind == "pipe" and wall_material(pipe.key).key == run.material)


def holds(fitting: FittingRow, pipe: PipeRow) -> bool:
    """Whether a fitting holds on a stock size.

    Parameters
    ----------
    fitting : FittingRow
        The fitting; threads hold on no plain end.
    pipe : PipeRow
        The stock size.

    Returns
    -------
    bool
        True for what is made for every hose and pipe. A barb coupling stands for a pipe's stiffener as well.
    """
    if fitting.joint in ANY:
        return True
    if fitting.joint == "barb" and fitting.kind == "coupling" and "push-fit" in pipe.joint:
        return True
    return _takes(fitting.joint, pipe) and (not fitting.size or pipe.key == f"pex {fitting.size}")


def _takes(joint: str, pipe: PipeRow) -> bool:
    row = joints().get(joint)
    return (
        row is not None and pipe.material in row.on and pipe.kind != "drain" and pipe.standard.startswith(row.standard)
    )


def fits(joint: Joint, run: Run) -> bool:
    """Whether the plain end of a run fits a connection, by kind and size.

    Parameters
    ----------
    joint : Joint
        A barb, push-fit, crimp, press or compression joint.
    run : Run
        The run.

    Returns
    -------
    bool
        Without a stock size a barb is held against the bore and any other joint against the outside, both by the
        material where that is said; True where nothing is.
    """
    pipe = pipes()[run.size] if run.size is not None else None
    alike = joined_as(run)
    kinds = (alike,) if alike is not None else _stock_of(run)
    if kinds and not any(_takes(joint.kind, kind) for kind in kinds):
        return False
    if joint.kind == "barb":
        bore = pipe.bore if pipe is not None else run.bore
        return bore is None or BARB[0] * bore <= joint.size <= BARB[1] * bore
    if pipe is None:
        return run.outside is None or abs(joint.size - run.outside) < SAME_OUTSIDE
    return pipe.outside is None or abs(joint.size - _held_by(joint, pipe, pipe.outside)) < SAME_OUTSIDE


def _held_by(joint: Joint, pipe: PipeRow, outside: float) -> float:
    """What the size of a joint is held against [m]: by inches PEX goes by its nominal size, else by its outside."""
    inches = pipe.standard.startswith(joints()["crimp"].standard) and not joint.text.endswith("mm")
    return outside - OVER_NOMINAL if inches else outside


def mates(joint: Joint, other: Joint) -> bool:
    """Whether two connections go together.

    Parameters
    ----------
    joint, other : Joint
        The connections.

    Returns
    -------
    bool
        Threads of one standard, size and pitch, one male and one female; other joints of one kind and size.
    """
    if joint.thread != other.thread or joint.kind != other.kind or joint.pitch != other.pitch:
        return False
    return abs(joint.size - other.size) < SAME_OUTSIDE and (not joint.thread or joint.sex != other.sex)


def adapters(plan: Plan, run: Run, pipe: PipeRow) -> int:
    """How many adapters from its plain end a run counts among its fittings.

    Parameters
    ----------
    plan : Plan
        With the builder's own fittings, each of which may be one.
    run : Run
        The run.
    pipe : PipeRow
        Its stock size, or the one as which it is joined.

    Returns
    -------
    int
        Couplings that hold on it, threaded couplings, reducers and own fittings.
    """
    table = fittings()
    return sum(
        count
        for kind, count in run.fittings.items()
        if kind in plan.fittings or (table[kind].kind in ("coupling", "reducer") and _adapts(table[kind], pipe))
    )


def _adapts(row: FittingRow, pipe: PipeRow) -> bool:
    return row.joint == "threaded" or holds(row, pipe)
