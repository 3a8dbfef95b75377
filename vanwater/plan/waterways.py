"""Ways that no water can take: what runs, pumps, mixing taps and heaters contradict each other.

What is not drawn yet is no contradiction: an outlet without a run, a branch that begins where nothing feeds it or ends
nowhere, a mixing tap with one side wait for their runs. A run that is drawn against the water is wrong as it stands.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from vanwater.plan.drawn import PASSED, Drawn, drawn_runs, listed, reached
from vanwater.plan.problems import Problem, joined, shown
from vanwater.plan.raw import Tables, parts, table

__all__ = ["waterways"]


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
    drawn = drawn_runs(raw, kinds)
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
        *_counted_twice(raw, drawn),
    ]


def _run_back(drawn: Drawn) -> Iterator[Problem]:
    """Run-back lines that lead elsewhere than from the hot line to a fresh tank."""
    inner = drawn.inner()
    fed = drawn.fed()
    heaters = [name for name, kind in drawn.kinds.items() if kind == "heaters"]
    hot = reached(heaters, inner.values())
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


def _from_waste(drawn: Drawn) -> Iterator[Problem]:
    """Grey water that is led to where fresh water leaves."""
    for name, (start, end) in drawn.runs.items():
        if start not in drawn.waste:
            continue
        used = [to for to in reached((end,), drawn.inner().values()) if drawn.kinds[to] in ("outlets", "heaters")]
        if used:
            drawn.blamed.add(name)
            yield Problem(
                joined(("runs", name, "from")),
                f"{shown(start)} holds no fresh water, and the run leads on to {listed(sorted(used))}.",
                "a tank that holds fresh water",
            )


def _into_source(drawn: Drawn) -> Iterator[Problem]:
    """Runs that lead into the tank that feeds the others: pumps and runs that face backwards."""
    inner = drawn.inner()
    for name, (start, end) in drawn.runs.items():
        if end not in drawn.sources or drawn.kinds[start] not in PASSED:
            continue
        others = {other: ends for other, ends in inner.items() if other != name}
        feeding = {tank for tank in drawn.sources if start in reached((tank,), others.values())}
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


def _circles(drawn: Drawn) -> Iterator[Problem]:
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
            f"The runs {listed(circle)} lead in a circle through {shown(left[first][0])}, and no pump drives it.",
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


def _unfed(drawn: Drawn) -> Iterator[Problem]:
    """Places where runs begin and nothing feeds them, because a run is turned; and rings that hang on no tank."""
    inner = {name: ends for name, ends in drawn.inner().items() if name not in drawn.blamed}
    fed = drawn.fed()
    arrived = {end for _, end in drawn.inner().values()}
    begun = dict.fromkeys(start for start, _ in inner.values() if start not in fed)
    some_outlet = any(drawn.kinds[place] == "outlets" for place in fed)
    told = reached((drawn.runs[name][0] for name in drawn.blamed), inner.values())
    for root in begun:
        if root in arrived or root in told:
            continue
        behind = reached((root,), inner.values())
        turned = _turned(drawn, root, inner, behind, fed)
        if turned is not None:
            told |= behind
            yield turned
    for place in begun:
        if some_outlet and place not in told and drawn.kinds[place] == "pumps":
            ring = reached((place,), inner.values())
            if place in reached((end for start, end in inner.values() if start == place), inner.values()):
                told |= ring
                yield Problem(
                    drawn.place(place),
                    f"{shown(place)} drives a ring of runs that hangs on no tank.",
                    "a run to the ring that comes from a tank",
                )


def _turned(
    drawn: Drawn, root: str, inner: Mapping[str, tuple[str, str]], behind: set[str], fed: set[str]
) -> Problem | None:
    """The one run that is drawn against the water, if turning it would feed the root."""
    for name, (start, end) in inner.items():
        joins = drawn.kinds[end] in ("mixers", "outlets") and start != root
        if start not in behind or start in fed or end not in fed or joins:
            continue
        if drawn.kinds[end] == "mixers" and drawn.kinds[root] != "outlets":
            continue
        others = [ends for other, ends in inner.items() if other != name]
        if drawn.kinds[root] == "pumps" and not any(begins == root for begins, _ in others):
            continue  # turned, the pump would press into nothing: its suction is not drawn yet
        if root not in reached(fed, [*others, (end, start)]):
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


def _stuck(drawn: Drawn) -> Iterator[Problem]:
    """Pumps and heaters into which runs lead from both sides."""
    inner = drawn.inner()
    for place, kind in drawn.kinds.items():
        arriving = [name for name, (_, end) in inner.items() if end == place]
        leaves = any(start == place for start, _ in drawn.runs.values())
        if kind in ("pumps", "heaters") and len(arriving) > 1 and not leaves and drawn.blamed.isdisjoint(arriving):
            drawn.blamed.update(arriving)
            told = f"{listed(arriving)} lead into {shown(place)}, and none leads out of it."
            yield Problem(drawn.place(place), told, "one run to it and one away from it", _SWAPPED)


def _mixers(drawn: Drawn) -> Iterator[Problem]:
    """Mixing taps that cannot mix: cold on both sides, or too many runs."""
    inner = drawn.inner()
    fed = drawn.fed()
    back = [(end, start) for start, end in inner.values()]
    heated = {name for name, kind in drawn.kinds.items() if kind == "heaters"}
    for mixer, kind in drawn.kinds.items():
        arriving = [name for name, (_, end) in inner.items() if end == mixer]
        if kind != "mixers" or not drawn.blamed.isdisjoint(arriving):
            continue
        if len(arriving) > 2:
            told = f"{len(arriving)} runs lead to it: {listed(arriving)}."
            yield Problem(drawn.place(mixer), told, "one hot and one cold run to it; a tee where others meet")
            continue
        if len(arriving) == 1:
            yield from _turned_side(drawn, mixer, arriving[0], inner)
            continue
        led = any(drawn.kinds[place] == "outlets" for place in reached((mixer,), inner.values()))
        if not arriving or not led or any(inner[name][0] not in fed for name in arriving):
            continue
        if not heated & reached((inner[name][0] for name in arriving), back):
            told = f"Neither {shown(arriving[0])} nor {shown(arriving[1])}, the runs to it, comes from a heater."
            yield Problem(drawn.place(mixer), told, "a hot and a cold run to it")


def _turned_side(drawn: Drawn, mixer: str, arriving: str, inner: Mapping[str, tuple[str, str]]) -> Iterator[Problem]:
    """A run that leads from a mixing tap with one side to where water is without it: it is the other side, turned."""
    for name, (start, end) in inner.items():
        others = [ends for other, ends in inner.items() if other != name]
        if name not in drawn.blamed and start == mixer and end in reached(drawn.sources, others):
            drawn.blamed.add(name)
            yield Problem(
                joined(("runs", name, "from")),
                f"The run begins at {shown(mixer)}, to which only {shown(arriving)} leads, and ends at {shown(end)}, "
                "which is fed without it.",
                f"from = {shown(end)} and to = {shown(mixer)}",
                _SWAPPED,
            )


def _counted_twice(raw: Tables, drawn: Drawn) -> Iterator[Problem]:
    """Thermostatic valves whose loss stands both in their own kv and among the fittings of their runs."""
    own = {name for name, mixer in parts(raw, "mixers") if mixer.get("kv") is not None}
    for name, (_, end) in drawn.runs.items():
        counts = table(table(table(raw, "runs"), name), "fittings")
        if end in own and counts.get(_VALVE):
            yield Problem(
                joined(("runs", name, "fittings", _VALVE)),
                f"The loss of {shown(end)} is counted twice: here and by its kv.",
                "one of the two",
            )


_VALVE = "thermostatic mixing valve"
