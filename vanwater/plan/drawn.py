"""The runs of a plan as one graph, read from its tables before they are known to be right."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from typing import get_args

from vanwater.plan.address import nearest
from vanwater.plan.problems import joined, shown
from vanwater.plan.pump import Kind
from vanwater.plan.raw import Tables, parts, table, text
from vanwater.plan.tables import fittings
from vanwater.plan.tanks import HOLDS

__all__ = ["PASSED", "Drawn", "drawn_runs", "listed", "reached"]

PASSED = ("pumps", "accumulators", "heaters", "tees", "mixers", "outlets")
"""Places that water passes; a place of any other table is one that it comes from."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Drawn:
    """The runs of a plan as one graph, in the direction in which they are drawn.

    Parameters
    ----------
    kinds : mapping of str to str
        The table in which each place stands.
    runs : mapping of str to tuple of str
        Start and end of each run; run-back lines are left out.
    sources : frozenset of str
        Places that water comes from: fresh tanks, inlets, pumps that hang in a tank.
    waste : frozenset of str
        Tanks that hold no fresh water.
    checked : frozenset of str
        Runs with a check valve.
    back : mapping of str to tuple of str
        Start and end of each run-back line.
    blamed : set of str
        Runs that were found wrong, so that they are told once.
    """

    kinds: Mapping[str, str]
    runs: Mapping[str, tuple[str, str]]
    sources: frozenset[str]
    waste: frozenset[str]
    checked: frozenset[str]
    back: Mapping[str, tuple[str, str]]
    blamed: set[str] = field(default_factory=set)

    def inner(self) -> dict[str, tuple[str, str]]:
        """Runs that do not end in a tank."""
        ends = self.sources | self.waste
        return {name: ends_of for name, ends_of in self.runs.items() if ends_of[1] not in ends}

    def fed(self) -> set[str]:
        """Places that water reaches."""
        return reached(self.sources | self.waste, self.inner().values())

    def place(self, name: str) -> str:
        """The address of a place."""
        return joined((self.kinds[name], name))


def drawn_runs(raw: Tables, kinds: Mapping[str, str]) -> Drawn | None:
    """Read the runs of a plan.

    Parameters
    ----------
    raw : mapping
        The plan's tables.
    kinds : mapping of str to str
        The table in which each place stands.

    Returns
    -------
    Drawn or None
        None while the end of a run is not known, also by a likely slip.
    """
    holds = {name: text(tank, "holds") for name, tank in parts(raw, "tanks")}
    waste = frozenset(name for name, kind in kinds.items() if kind == "tanks" and holds.get(name) in HOLDS[1:])
    within = {str(name) for name, pump in table(raw, "pumps").items() if _hangs(pump)}
    sources = frozenset(name for name, kind in kinds.items() if kind not in PASSED or name in within) - waste
    runs: dict[str, tuple[str, str]] = {}
    back: dict[str, tuple[str, str]] = {}
    checked = set()
    for name in table(raw, "runs"):
        run = table(table(raw, "runs"), name)
        start, end = (_meant(text(run, key), kinds) for key in ("from", "to"))
        if start is None or end is None:
            return None
        if start != end and end not in within:  # a run to a pump that hangs in its tank is told elsewhere
            (back if run.get("run_back") is True else runs)[str(name)] = (start, end)
        if any(count and _is_check_valve(str(kind)) for kind, count in table(run, "fittings").items()):
            checked.add(str(name))
    return Drawn(kinds=kinds, runs=runs, sources=sources, waste=waste, checked=frozenset(checked), back=back)


def _hangs(pump: object) -> bool:
    """Whether a pump hangs in its tank, or may do so as far as it can be read."""
    if not isinstance(pump, Mapping):
        return True
    kind = pump.get("kind", "diaphragm")
    return kind == "submersible" or kind not in get_args(Kind) or "submersible" in pump.values()


def _meant(name: str | None, kinds: Mapping[str, str]) -> str | None:
    if name is None or name in kinds:
        return name
    return nearest(name, tuple(kinds)) or None


def _is_check_valve(fitting: str) -> bool:
    row = fittings().get(fitting)
    return row is not None and row.kind == "check valve"


def reached(start: Iterable[str], runs: Iterable[tuple[str, str]]) -> set[str]:
    """Places that are reached along runs, those to start from included.

    Parameters
    ----------
    start : iterable of str
        Where to begin.
    runs : iterable of tuple of str
        Start and end of each run.

    Returns
    -------
    set of str
        In the direction of the runs only.
    """
    onward: dict[str, list[str]] = {}
    for begin, end in runs:
        onward.setdefault(begin, []).append(end)
    reached = set(start)
    stack = list(reached)
    while stack:
        for end in onward.get(stack.pop(), ()):
            if end not in reached:
                reached.add(end)
                stack.append(end)
    return reached


def listed(names: Iterable[str], most: int = 4) -> str:
    """Names as a list in words.

    Parameters
    ----------
    names : iterable of str
        The names, of which the first few are told.
    most : int
        How many.

    Returns
    -------
    str
        Quoted and harmless.
    """
    told = [shown(name) for name in names]
    if len(told) > most:
        return f"{', '.join(told[:most])} and {len(told) - most} more"
    return " and ".join(part for part in (", ".join(told[:-1]), *told[-1:]) if part)
