"""Ways that no water can take: what runs, pumps, mixing taps and heaters contradict each other.

What is not drawn yet is no contradiction. An outlet without a run, or a branch that ends nowhere, waits to be
decided; a branch that begins where nothing feeds it, while water reaches other outlets, is wrong as it stands.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from vanwater.plan.address import nearest
from vanwater.plan.problems import Problem, joined, shown
from vanwater.plan.raw import Tables, parts, table, text
from vanwater.plan.tables import fittings
from vanwater.plan.tanks import HOLDS

__all__ = ["waterways"]

_PASSED = ("pumps", "accumulators", "heaters", "tees", "mixers", "outlets")
"""Places that water passes; a place of any other table is one that it comes from."""


def waterways(raw: Tables, kinds: Mapping[str, str]) -> list[Problem]:
    """Runs, pumps, mixing taps and heaters that contradict each other.

    Parameters
    ----------
    raw : mapping
        The plan's tables.
    kinds : mapping of str to str
        The table in which each place stands.

    Returns
    -------
    list of Problem
        Without their places in a file; none while the end of a run is not known, since that is told elsewhere.
    """
    drawn = _drawn(raw, kinds)
    if drawn is None or not drawn.runs:
        return []
    return [
        *_run_back(drawn),
        *_from_waste(drawn),
        *_into_source(drawn),
        *_circles(drawn),
        *_unfed(drawn),
        *_stuck(drawn),
        *_mixers(drawn),
    ]


@dataclass(frozen=True, slots=True)
class _Drawn:
    """The runs of a plan as one graph, in the direction in which they are drawn."""

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
        return _reached(self.sources | self.waste, self.inner().values())

    def place(self, name: str) -> str:
        return joined((self.kinds[name], name))


def _drawn(raw: Tables, kinds: Mapping[str, str]) -> _Drawn | None:
    holds = {name: text(tank, "holds") for name, tank in parts(raw, "tanks")}
    waste = frozenset(name for name, kind in kinds.items() if kind == "tanks" and holds.get(name) in HOLDS[1:])
    within = {name for name, pump in parts(raw, "pumps") if text(pump, "kind") == "submersible"}
    sources = frozenset(name for name, kind in kinds.items() if kind not in _PASSED or name in within) - waste
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
    return _Drawn(kinds, runs, sources, waste, frozenset(checked), back)


def _meant(name: str | None, kinds: Mapping[str, str]) -> str | None:
    if name is None or name in kinds:
        return name
    return nearest(name, tuple(kinds)) or None


def _is_check_valve(fitting: str) -> bool:
    row = fittings().get(fitting)
    return row is not None and row.kind == "check valve"


def _reached(start: Iterable[str], runs: Iterable[tuple[str, str]]) -> set[str]:
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


def _listed(names: Iterable[str], most: int = 4) -> str:
    told = [shown(name) for name in names]
    if len(told) > most:
        return f"{', '.join(told[:most])} and {len(told) - most} more"
    return " and ".join(part for part in (", ".join(told[:-1]), *told[-1:]) if part)


def _run_back(drawn: _Drawn) -> Iterator[Problem]:
    """Run-back lines that lead elsewhere than from the hot line to a fresh tank."""
    inner = drawn.inner()
    fed = drawn.fed()
    heaters = [name for name, kind in drawn.kinds.items() if kind == "heaters"]
    hot = _reached(heaters, inner.values())
    for name, (start, end) in drawn.back.items():
        if drawn.kinds[end] != "tanks" or end in drawn.waste:
            told = f"The run-back line leads to {shown(end)}."
            yield Problem(joined(("runs", name, "to")), told, "a tank that holds fresh water")
        elif start in drawn.sources:
            swapped = f"from = {shown(end)} and to = {shown(start)}"
            told = f"The run-back line begins at {shown(start)}."
            yield Problem(joined(("runs", name, "from")), told, f"a place behind a heater, or {swapped}", _SWAPPED)
        elif start not in hot and start in fed:
            told = f"The run-back line begins at {shown(start)}, to which no heater leads: only cold water comes back."
            yield Problem(joined(("runs", name, "from")), told, "a place of the hot line, behind the heater")


def _from_waste(drawn: _Drawn) -> Iterator[Problem]:
    """Grey water that is led to where fresh water leaves."""
    for name, (start, end) in drawn.runs.items():
        if start not in drawn.waste:
            continue
        used = [to for to in _reached((end,), drawn.inner().values()) if drawn.kinds[to] in ("outlets", "heaters")]
        if used:
            drawn.blamed.add(name)
            yield Problem(
                joined(("runs", name, "from")),
                f"{shown(start)} holds no fresh water, and the run leads on to {_listed(sorted(used))}.",
                "a tank that holds fresh water",
            )


def _into_source(drawn: _Drawn) -> Iterator[Problem]:
    """Runs that lead into the tank that feeds the others: pumps and runs that face backwards."""
    inner = drawn.inner()
    for name, (start, end) in drawn.runs.items():
        if end not in drawn.sources or drawn.kinds[start] not in _PASSED:
            continue
        others = {other: ends for other, ends in inner.items() if other != name}
        feeding = {tank for tank in drawn.sources if start in _reached((tank,), others.values())}
        if drawn.kinds[start] == "pumps" and feeding - {end}:
            continue  # it fills one tank from another
        drawn.blamed.add(name)
        place = joined(("runs", name, "to"))
        turned = f"from = {shown(end)} and to = {shown(start)}"
        if feeding:
            yield Problem(
                place,
                f"The run leads back into {shown(end)}, which feeds it: its flow would be missing at the outlets.",
                "a run that leads to an outlet",
            )
        elif drawn.kinds[start] == "pumps":
            yield Problem(
                place, f"The pump {shown(start)} faces backwards: it presses into {shown(end)}.", turned, _SWAPPED
            )
            for other in (other for other, ends in others.items() if ends[1] == start):
                drawn.blamed.add(other)
                yield Problem(
                    joined(("runs", other, "to")),
                    f"The run leads into the pump {shown(start)} on the side of the outlets.",
                    f"from = {shown(start)} and to = {shown(others[other][0])}",
                    _SWAPPED,
                )
        else:
            valve = ", and the check valve in it faces the tank" if name in drawn.checked else ""
            yield Problem(
                place, f"The run leads into {shown(end)}, not out of it{valve}: no water comes.", turned, _SWAPPED
            )


_SWAPPED = "Are from and to swapped?"


def _circles(drawn: _Drawn) -> Iterator[Problem]:
    """Runs that lead back to where they begin, with no pump to drive water around."""
    left = {
        name: ends
        for name, ends in drawn.inner().items()
        if "pumps" not in (drawn.kinds[ends[0]], drawn.kinds[ends[1]])
    }
    while left := _core(left):
        onward = {start: name for name, (start, _) in reversed(left.items())}
        place, walked = next(iter(left.values()))[0], list[str]()
        while (name := onward[place]) not in walked:
            walked.append(name)
            place = left[name][1]
        circle = walked[walked.index(name) :]
        first = min(circle, key=list(drawn.runs).index)
        circle = [*circle[circle.index(first) :], *circle[: circle.index(first)]]
        drawn.blamed.update(circle)
        yield Problem(
            joined(("runs", first, "from")),
            f"The runs {_listed(circle)} lead in a circle through {shown(left[first][0])}, and no pump drives it.",
            "runs that lead from a tank to the outlets, or a pump in the circle",
        )
        left = {name: ends for name, ends in left.items() if name not in circle}


def _core(runs: dict[str, tuple[str, str]]) -> dict[str, tuple[str, str]]:
    """The runs that are left when those that begin or end loosely are taken away, again and again."""
    while True:
        starts, ends = {start for start, _ in runs.values()}, {end for _, end in runs.values()}
        kept = {name: run for name, run in runs.items() if run[0] in ends and run[1] in starts}
        if len(kept) == len(runs):
            return kept
        runs = kept


def _unfed(drawn: _Drawn) -> Iterator[Problem]:
    """Places where runs begin and nothing feeds them, though water is led to an outlet, or a run is turned."""
    inner = {name: ends for name, ends in drawn.inner().items() if name not in drawn.blamed}
    fed = drawn.fed()
    arrived = {end for _, end in drawn.inner().values()}
    begun = dict.fromkeys(start for start, _ in inner.values() if start not in fed)
    some_outlet = any(drawn.kinds[place] == "outlets" for place in fed)
    told = _reached((drawn.runs[name][0] for name in drawn.blamed), inner.values())
    for root in begun:
        if root in arrived or root in told:
            continue
        behind = _reached((root,), inner.values())
        turned = _turned(drawn, root, inner, behind, fed)
        if turned is None and not some_outlet:
            continue
        told |= behind
        if turned is not None:
            yield turned
            continue
        runs = [name for name, (start, _) in inner.items() if start == root]
        dry = sorted(place for place in behind - fed if drawn.kinds[place] == "outlets" and place != root)
        lack = f", so that nothing feeds {_listed(dry)}" if dry else ""
        yield Problem(
            drawn.place(root),
            f"No run leads to {shown(root)}, but {_listed(runs)} begin{'s' if len(runs) == 1 else ''} there{lack}.",
            "a run to it that comes from a tank",
        )
    for place in begun:
        if some_outlet and place not in told and drawn.kinds[place] == "pumps":
            ring = _reached((place,), inner.values())
            if place in _reached((end for start, end in inner.values() if start == place), inner.values()):
                told |= ring
                yield Problem(
                    drawn.place(place),
                    f"{shown(place)} drives a ring of runs that hangs on no tank.",
                    "a run to the ring that comes from a tank",
                )


def _turned(
    drawn: _Drawn, root: str, inner: Mapping[str, tuple[str, str]], behind: set[str], fed: set[str]
) -> Problem | None:
    """The one run that is drawn against the water, if turning it would feed the root."""
    for name, (start, end) in inner.items():
        joins = drawn.kinds[end] in ("mixers", "outlets") and start != root
        if start not in behind or start in fed or end not in fed or joins:
            continue
        if drawn.kinds[end] == "mixers" and drawn.kinds[root] != "outlets":
            continue
        others = [ends for other, ends in inner.items() if other != name]
        if root not in _reached(fed, [*others, (end, start)]):
            continue
        drawn.blamed.add(name)
        valve = "; the check valve in it faces the source" if name in drawn.checked else ""
        return Problem(
            joined(("runs", name, "from")),
            f"The run begins at {shown(start)}, which nothing feeds, and ends at {shown(end)}, which is fed{valve}.",
            f"from = {shown(end)} and to = {shown(start)}",
            _SWAPPED,
        )
    return None


def _stuck(drawn: _Drawn) -> Iterator[Problem]:
    """Pumps and heaters into which runs lead from both sides."""
    inner = drawn.inner()
    for place, kind in drawn.kinds.items():
        arriving = [name for name, (_, end) in inner.items() if end == place]
        leaves = any(start == place for start, _ in drawn.runs.values())
        if kind in ("pumps", "heaters") and len(arriving) > 1 and not leaves and drawn.blamed.isdisjoint(arriving):
            drawn.blamed.update(arriving)
            told = f"{_listed(arriving)} lead into {shown(place)}, and none leads out of it."
            yield Problem(drawn.place(place), told, "one run to it and one away from it", _SWAPPED)


def _mixers(drawn: _Drawn) -> Iterator[Problem]:
    """Mixing taps that cannot mix: one side only, cold on both, or too many runs."""
    inner = drawn.inner()
    fed = drawn.fed()
    back = [(end, start) for start, end in inner.values()]
    heated = {name for name, kind in drawn.kinds.items() if kind == "heaters"}
    hot_drawn = any(
        drawn.kinds[place] == "outlets" for heater in heated & fed for place in _reached((heater,), inner.values())
    )
    for mixer, kind in drawn.kinds.items():
        arriving = [name for name, (_, end) in inner.items() if end == mixer]
        if kind != "mixers" or not drawn.blamed.isdisjoint(arriving):
            continue
        led = any(drawn.kinds[place] == "outlets" for place in _reached((mixer,), inner.values()))
        if len(arriving) > 2:
            told = f"{len(arriving)} runs lead to it: {_listed(arriving)}."
            yield Problem(drawn.place(mixer), told, "one hot and one cold run to it; a tee where others meet")
            continue
        if not led or not arriving or any(inner[name][0] not in fed for name in arriving):
            continue
        warm = [bool(heated & _reached((inner[name][0],), back)) for name in arriving]
        if len(arriving) == 2 and not any(warm):
            told = f"Neither {shown(arriving[0])} nor {shown(arriving[1])}, the runs to it, comes from a heater."
            yield Problem(drawn.place(mixer), told, "a hot and a cold run to it")
        elif len(arriving) == 1 and hot_drawn:
            side = "hot" if warm[0] else "cold"
            told = f"Only {shown(arriving[0])} leads to it, its {side} side."
            yield Problem(drawn.place(mixer), told, "a hot and a cold run to it, or a tee in its place")
