"""Checks across the pieces of a plan: what names what, and whether it is there.

They read the tables as they are written, so that a piece that is wrong itself still counts as there.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence

from vanwater.plan.address import nearest
from vanwater.plan.awaited import NAME, Awaited, is_slip, without
from vanwater.plan.problems import Problem, joined, shown
from vanwater.plan.raw import Tables, parts, table, text
from vanwater.plan.tables import fittings, listed_by, materials, outlets, pipes
from vanwater.plan.tanks import HOLDS
from vanwater.plan.waterways import waterways

__all__ = ["PLACES", "references"]

PLACES = ("tanks", "pumps", "mains", "accumulators", "heaters", "tees", "mixers", "outlets")
"""Tables whose entries are places: a run may begin or end there."""


def references(raw: Tables, known: Sequence[str]) -> tuple[list[Problem], tuple[Awaited, ...]]:
    """Names that lead nowhere, and names that lead to two things.

    A name that is like one of the plan's is a slip, and a problem; one that is like none waits for its table.

    Parameters
    ----------
    raw : mapping
        The plan's tables with the ready habits filled in.
    known : sequence of str
        The tables that a plan may have; what stands in one that is misspelt counts as there.

    Returns
    -------
    tuple
        Problems without their places in a file, and what points at places that are not written yet.
    """
    meant = {nearest(str(name), tuple(known)): raw[name] for name in raw if name not in known}
    every = {**meant, **raw}
    names = {place: tuple(str(name) for name in table(every, place)) for place in PLACES}
    looked_at = list(_looked_at(every, names))
    awaited = tuple(told for told in looked_at if isinstance(told, Awaited) and told.place[0] in raw)
    problems = [
        *(told for told in looked_at if isinstance(told, Problem)),
        *waterways(without(every, awaited), {name: place for place in reversed(PLACES) for name in names[place]}),
    ]
    return [problem for problem in problems if problem.address.partition(".")[0] in raw], awaited


def _looked_at(raw: Tables, names: Mapping[str, Sequence[str]]) -> Iterator[Problem | Awaited]:
    yield from _twice(names)
    yield from _runs(raw, names)
    yield from _tanks(raw, names)
    yield from _uses(raw, names)
    yield from _stock(raw)
    yield from _pumps(raw, names)
    yield from _accumulators(raw, names)
    yield from _pads(raw, names)
    yield from _cables(raw, names)
    yield from _together(raw, names)


def _twice(names: Mapping[str, Sequence[str]]) -> Iterator[Problem]:
    first: dict[str, str] = {}
    for place, entries in names.items():
        for name in entries:
            if name in first:
                yield Problem(
                    joined((place, name)),
                    f"{shown(name)} names two places: [{joined((first[name], name))}] and [{joined((place, name))}].",
                    "a name of its own for each, so that runs know which is meant",
                )
            first.setdefault(name, place)


class _Known:
    """Names that may be meant somewhere, and the report of one that is none of them."""

    def __init__(self, names: Sequence[str], what: str, most: int = 12, stock: str = "") -> None:
        self.names, self.what, self.most, self.all = tuple(names), what, most, frozenset(names)
        self.listed = listed_by(stock) if stock else ""

    def lost(self, place: Sequence[str], name: str | None) -> Iterator[Problem]:
        if name is None or name in self.all:
            return
        close = nearest(name, self.names)
        slip = f"Did you mean {shown(close)}?" if close else ""
        listed = ", ".join(shown(known)[1:-1] for known in self.names[: self.most])
        more = f" and {len(self.names) - self.most} more" if len(self.names) > self.most else ""
        expected = f"{self.what}: {listed}{more}" if self.names else f"{self.what}; the plan has none yet"
        told = " ".join(part for part in (slip, self.listed) if part)
        yield Problem(joined(place), f"{shown(name)} does not exist.", expected, told)


class _Places(_Known):
    """Places of the plan that may be meant somewhere; of the others some are slips, and some not written yet.

    Parameters
    ----------
    raw : mapping
        The plan's tables.
    kinds : mapping of str to sequence of str
        The names of the tables that may be meant.
    what : str
        What is meant, in words.
    more : sequence of str
        Words that may stand in the place of a name.
    """

    def __init__(self, raw: Tables, kinds: Mapping[str, Sequence[str]], what: str, more: Sequence[str] = ()) -> None:
        super().__init__([*(name for names in kinds.values() for name in names), *more], what)
        self.table = next(iter(kinds)) if len(kinds) == 1 else ""
        self.taken = {str(name) for kind in (*PLACES, "runs") for name in table(raw, kind)}

    def awaited(
        self, place: tuple[str, str, str], name: str | None, run: tuple[str, ...] = ()
    ) -> Iterator[Problem | Awaited]:
        """A problem with a name that is a slip or that something else has; else a place that is not written yet."""
        if name is None or name in self.all:
            return
        if name in self.taken or not re.match(NAME, name) or is_slip(name, self.names):
            yield from self.lost(place, name)
        else:
            yield Awaited(place=place, name=name, table=self.table, close=nearest(name, self.names), run=run)


def _runs(raw: Tables, names: Mapping[str, Sequence[str]]) -> Iterator[Problem | Awaited]:
    places = _Places(raw, names, "a place of the plan")
    for name, run in parts(raw, "runs"):
        ends = text(run, "from"), text(run, "to")
        for field, end in zip(("from", "to"), ends, strict=True):
            yield from places.awaited(("runs", name, field), end, tuple(place or "" for place in ends))


def _tanks(raw: Tables, names: Mapping[str, Sequence[str]]) -> Iterator[Problem | Awaited]:
    known = _Places(raw, {"tanks": names["tanks"]}, "a tank of the plan")
    tanks = dict(parts(raw, "tanks"))
    for name, tank in tanks.items():
        holds = text(tank, "holds")
        if name == "outside":
            yield Problem("tanks.outside", 'A tank cannot be named "outside".', "another name: it stands for no tank")
        if name in HOLDS and holds in HOLDS and holds != name:
            expected = f'holds = "{name}", or another name'
            yield Problem(joined(("tanks", name)), f'A tank named "{name}" holds {holds}.', expected)
        into = text(tank, "refills")
        if into is None:
            continue
        place = ("tanks", name, "refills")
        if into == name:
            yield Problem(joined(place), f"{shown(name)} refills itself.", "another tank")
            continue
        yield from known.awaited(place, into)
        other = tanks.get(into, {})
        kinds = {kind for kind in (holds, text(other, "holds")) if kind in HOLDS}
        if kinds - {"fresh"}:
            yield Problem(joined(place), "Only fresh water refills a fresh tank.", "two tanks that hold fresh water")
        elif text(other, "refills") not in (None, into):
            message = f"{shown(into)} itself refills another tank."
            yield Problem(joined(place), message, "the tank that water is drawn from")


def _uses(raw: Tables, names: Mapping[str, Sequence[str]]) -> Iterator[Problem | Awaited]:
    fresh = _Places(raw, {"tanks": names["tanks"]}, "a fresh tank")
    sinks = _Places(raw, {"tanks": names["tanks"]}, "a tank, or outside", ("outside",))
    known = _Places(raw, {"outlets": names["outlets"]}, "an outlet of the plan")
    tanks = dict(parts(raw, "tanks"))
    for name, use in parts(raw, "uses"):
        source, sink = text(use, "tank"), text(use, "to")
        yield from fresh.awaited(("uses", name, "tank"), source)
        drawn = tanks.get(source, {}) if source is not None else {}
        into = text(drawn, "refills")
        if text(drawn, "holds") in HOLDS[1:]:
            yield Problem(joined(("uses", name, "tank")), f"{shown(source)} holds no fresh water.", "a fresh tank")
        elif into is not None and into != source:
            message = f"{shown(source)} is emptied into {shown(into)}."
            yield Problem(joined(("uses", name, "tank")), message, f"tank = {shown(into)}")
        if sink not in HOLDS:
            yield from sinks.awaited(("uses", name, "to"), sink)
        if sink == "fresh" or (sink is not None and text(tanks.get(sink, {}), "holds") == "fresh"):
            expected = "a grey or toilet tank, or outside"
            yield Problem(joined(("uses", name, "to")), f"{shown(sink)} holds fresh water.", expected)
        yield from known.awaited(("uses", name, "outlet"), text(use, "outlet"))


def _stock(raw: Tables) -> Iterator[Problem]:
    sizes = _Known(tuple(pipes()), "a size of the table of pipes", 3, "sizes")
    pieces = _Known(
        (*(str(name) for name in table(raw, "fittings")), *fittings()), "a fitting of the table", 3, "fittings"
    )
    types = _Known(tuple(outlets()), "an outlet of the table", stock="outlets")
    for name, run in parts(raw, "runs"):
        yield from sizes.lost(("runs", name, "size"), text(run, "size"))
        for fitting in table(run, "fittings"):
            yield from pieces.lost(("runs", name, "fittings", str(fitting)), str(fitting))
    walls = _Known(tuple(materials()), "a material of the table", 6, "materials")
    for table_name in ("tanks", "runs"):
        for name, part in parts(raw, table_name):
            yield from walls.lost((table_name, name, "material"), text(part, "material"))
    for name, outlet in parts(raw, "outlets"):
        yield from types.lost(("outlets", name, "type"), text(outlet, "type"))


def _pumps(raw: Tables, names: Mapping[str, Sequence[str]]) -> Iterator[Problem | Awaited]:
    """Submersible pumps hang in a fresh tank; no run leads to them."""
    known = _Places(raw, {"tanks": names["tanks"]}, "a fresh tank")
    tanks = dict(parts(raw, "tanks"))
    within = {name: pump for name, pump in parts(raw, "pumps") if text(pump, "kind") == "submersible"}
    for name, pump in within.items():
        place, tank = ("pumps", name, "tank"), text(pump, "tank")
        yield from known.awaited(place, tank)
        if tank is not None and text(tanks.get(tank, {}), "holds") in HOLDS[1:]:
            yield Problem(joined(place), f"{shown(tank)} holds no fresh water.", "a fresh tank")
    for name, run in parts(raw, "runs"):
        end = text(run, "to")
        if end in within:
            start = text(run, "from")
            slip = f"Write tank = {shown(start)} in [{joined(('pumps', end))}]." if start in tanks else ""
            message = f"{shown(end)} is submersible: it hangs in its tank, and no run leads to it."
            yield Problem(joined(("runs", name, "to")), message, "runs that lead away from it only", slip)


def _accumulators(raw: Tables, names: Mapping[str, Sequence[str]]) -> Iterator[Problem | Awaited]:
    others = {kind: entries for kind, entries in names.items() if kind != "accumulators"}
    places = _Places(raw, others, "a place of the plan")
    for name, vessel in parts(raw, "accumulators"):
        yield from places.awaited(("accumulators", name, "at"), text(vessel, "at"))


def _pads(raw: Tables, names: Mapping[str, Sequence[str]]) -> Iterator[Problem | Awaited]:
    known = _Places(raw, {"tanks": names["tanks"]}, "a tank of the plan")
    for name, pad in parts(raw, "pads"):
        yield from known.awaited(("pads", name, "tank"), text(pad, "tank"))


def _cables(raw: Tables, names: Mapping[str, Sequence[str]]) -> Iterator[Problem | Awaited]:
    fed = {kind: names[kind] for kind in ("pumps", "heaters")}
    known = _Places(raw, fed, "a pump or a heater of the plan, or inverter", ("inverter",))
    for name, cable in parts(raw, "cables"):
        yield from known.awaited(("cables", name, "to"), text(cable, "to"))


def _together(raw: Tables, names: Mapping[str, Sequence[str]]) -> Iterator[Problem | Awaited]:
    known = _Places(raw, {"outlets": names["outlets"]}, "an outlet of the plan")
    for name, open_together in parts(raw, "together"):
        listed = open_together.get("outlets")
        if not isinstance(listed, list | tuple):
            continue
        for outlet in listed:
            if isinstance(outlet, str):
                yield from known.awaited(("together", name, "outlets"), outlet)
        if len(set(map(str, listed))) < len(listed):
            place = joined(("together", name, "outlets"))
            yield Problem(place, "An outlet is listed twice.", "each outlet once")
