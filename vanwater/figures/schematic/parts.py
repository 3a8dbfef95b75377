"""The records of a plumbing drawing: pieces, lines, the whole."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal, Protocol, TypeAlias

from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Say
from vanwater.plan.model import Plan

__all__ = ["KINDS", "Asked", "Line", "Piece", "Piping", "Shows", "Water"]

Water: TypeAlias = Literal["cold", "hot", "mixed", "waste"]
"""What runs in a line."""

Shows: TypeAlias = Literal["size", "loss"]
"""What stands beside a line: its size and length, or its size and what it takes of the pressure."""

KINDS = {"own": "fitting", "uv": "UV lamp", "mains": "inlet for a campsite's water", "mixer": "mixing tap"}
"""What kinds of pieces are called whose name is another than their own."""


class Asked(Protocol):
    """A plan and the answers to it."""

    @property
    def plan(self) -> Plan:
        """The plan that was asked."""

    @property
    def each(self) -> Mapping[str, Answer]:
        """The answers, by question."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """A piece of the drawing.

    Parameters
    ----------
    key : str
        Its address in the plan, with the fitting's name for what rides on a run.
    number : int
        As it stands on the drawing and in the list.
    kind : str
        "tank", "pump", "check valve" ...: which symbol is drawn.
    name : str
        As the plan calls it.
    about : tuple of Say
        What stands below the name, a line each.
    holds : str
        Of a tank: what it holds.
    """

    key: str
    number: int
    kind: str
    name: str
    about: tuple[Say, ...] = ()
    holds: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Line:
    """A run of the drawing, whole: it may pass pieces that ride on it.

    Parameters
    ----------
    key : str
        Its address in the plan; that of an accumulator for the stub on which it sits.
    number : int
        As it stands on the drawing and in the list; 0 for a stub, which is no run.
    name : str
        As the plan calls it.
    places : tuple of str
        Keys of the pieces that it joins, in the direction of the water.
    water : {"cold", "hot", "mixed", "waste"}
        What runs in it.
    about : tuple of Say
        What stands beside it, a line each.
    told : tuple of Say
        What its title tells: size, length, and what it takes of the pressure.
    """

    key: str
    number: int
    name: str
    places: tuple[str, ...]
    water: Water
    about: tuple[Say, ...] = ()
    told: tuple[Say, ...] = ()


@dataclass(frozen=True, slots=True)
class Piping:
    """The plumbing of a van.

    Parameters
    ----------
    pieces : tuple of Piece
        In the order of their numbers.
    lines : tuple of Line
        In the order of their numbers.
    alone : tuple of Piece
        Pieces to which no run leads.
    waiting : tuple of str
        Names of runs an end of which the plan does not have yet; they are not drawn.
    """

    pieces: tuple[Piece, ...]
    lines: tuple[Line, ...]
    alone: tuple[Piece, ...] = ()
    waiting: tuple[str, ...] = field(default=())
