"""Two hundred plans that are always the same, to compare the answers of two states of the code.

``raw_plans()`` reads them from ``plans.json.xz``. They were drawn once by ``python -m tests.net.plans``, which writes
that file anew: the examples and the small vans changed at random (cut at tables, a table left out, numbers scaled,
outlets renamed, units changed, sets of outlets opened together), and plans of every shape from ``tests/strategies.py``.
A newer hypothesis draws other plans from the same seed, so the tables themselves are kept. Kept are only plans that
the code of the day answered; new plans need a new record (``record.py``).
"""

from __future__ import annotations

import copy
import json
import lzma
import random
import re
import tomllib
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from typing import Any

__all__ = ["raw_plans"]

Raw = dict[str, Any]

HERE = Path(__file__).parent
FILE = HERE / "plans.json.xz"
EXAMPLES = HERE.parents[1] / "data" / "plans"
SEED = 20_260_501
CHANGED, FREE = 148, 34
"""How many changed vans, and how many plans of every shape; the eighteen small vans as they are come on top."""

OFTEN = {"family-winter": 14, "touring-campsites": 7, "long-stay-dry-toilet": 5, "weekend-cans": 5}
"""How often an example is changed, where a small van is once: the more numbers, the oftener."""

NUMBER = re.compile(r"^([−-]?[0-9.]+) (.+)$")


@cache
def raw_plans() -> dict[str, Raw]:
    """The example plans and the two hundred, as tables by name."""
    examples = {path.stem: tomllib.loads(path.read_text(encoding="utf-8")) for path in sorted(EXAMPLES.glob("*.toml"))}
    return examples | json.loads(lzma.decompress(FILE.read_bytes()))


# --- ways to change a van -----------------------------------------------------------------------------------


def pieces(raw: Raw) -> list[tuple[str, ...]]:
    """The tables of a file in their order: ("van",), ("tanks", "fresh") ..."""
    named = ("tanks", "pumps", "outlets", "runs", "tees", "mixers", "heaters", "accumulators", "pads", "loads", "uses")
    return [way for table in raw for way in ([(table, name) for name in raw[table]] if table in named else [(table,)])]


def without(raw: Raw, ways: list[tuple[str, ...]]) -> Raw:
    """The tables but those; what names a lost outlet is taken out of its set."""
    for way in ways:
        holder = raw[way[0]] if len(way) == 2 else raw
        holder.pop(way[-1], None)
    kept = {table: entries for table, entries in raw.items() if entries != {}}
    for name, together in list(kept.get("together", {}).items()):
        together["outlets"] = [outlet for outlet in together["outlets"] if outlet in kept.get("outlets", {})]
        if len(together["outlets"]) < 2:
            del kept["together"][name]
    return kept


def cut(raw: Raw, chance: random.Random) -> Raw:
    """Only the first tables of the file, as a builder writes them from the top down."""
    ways = pieces(raw)
    return without(raw, ways[chance.randint(len(ways) // 2, len(ways)) :])


def one_left_out(raw: Raw, chance: random.Random) -> Raw:
    """One table less."""
    return without(raw, [chance.choice([way for way in pieces(raw) if way[0] not in ("van", "household")])])


def texts(raw: Raw) -> Iterator[tuple[Raw, str, str, str]]:
    """Every text with a unit: its table, key, number and unit."""
    for table in raw:
        for holder in _tables(raw[table]):
            for key, text in holder.items():
                if isinstance(text, str) and key not in ("name", "note", "revision") and (match := NUMBER.match(text)):
                    yield holder, key, match[1].replace("−", "-"), match[2]


def _tables(entry: Any) -> Iterator[Raw]:
    if isinstance(entry, dict):
        yield entry
        for below in entry.values():
            yield from _tables(below)


def scaled(raw: Raw, chance: random.Random) -> Raw:
    """Some numbers a little or much greater or less."""
    for holder, key, number, unit in chance.sample(places := list(texts(raw)), min(len(places), chance.randint(1, 8))):
        holder[key] = f"{float(number) * chance.choice((0.6, 0.8, 0.9, 0.97, 1.04, 1.15, 1.3, 1.7)):.5g} {unit}"
    return raw


UNITS = {
    "m": (1 / 0.3048, "ft"), "cm": (1 / 2.54, "in"), "mm": (1 / 25.4, "in"), "L": (1 / 3.785411784, "US gal"),
    "bar": (14.503773773, "psi"), "L/min": (1 / 3.785411784, "gal/min"), "kg": (1 / 0.45359237, "lb"),
    "W": (1e-3, "kW"), "min": (60.0, "s"), "h": (60.0, "min"), "Ah": (1e3, "mAh"),
}  # fmt: skip


def other_units(raw: Raw, chance: random.Random) -> Raw:
    """Some numbers written in another unit, and the page in the other system."""
    for holder, key, number, unit in list(texts(raw)):
        if unit in UNITS and chance.random() < 0.4:
            factor, name = UNITS[unit]
            holder[key] = f"{float(number) * factor:.7g} {name}"
    raw["van"]["units"] = chance.choice(("metric", "us"))
    return raw


def renamed(raw: Raw, chance: random.Random) -> Raw:
    """One outlet under another name, wherever it is named."""
    if not raw.get("outlets"):
        return raw
    old = chance.choice(sorted(raw["outlets"]))
    new = chance.choice(("rear wash", "Dusche 2", "tap-3", "évier", "x"))
    if new in {name for table in raw.values() if isinstance(table, dict) for name in table}:
        return raw
    raw["outlets"] = {new if name == old else name: part for name, part in raw["outlets"].items()}
    for table, keys in (("runs", ("from", "to")), ("uses", ("outlet",)), ("accumulators", ("at",))):
        for part in raw.get(table, {}).values():
            for key in keys:
                if part.get(key) == old:
                    part[key] = new
    for together in raw.get("together", {}).values():
        together["outlets"] = [new if name == old else name for name in together["outlets"]]
    return raw


def opened(raw: Raw, chance: random.Random) -> Raw:
    """Another set of outlets open together."""
    outlets = sorted(raw.get("outlets", {}))
    if len(outlets) > 1:
        chosen = chance.sample(outlets, chance.randint(2, min(3, len(outlets))))
        raw["together"] = {**raw.get("together", {}), "morning": {"outlets": chosen}}
    return raw


WAYS: tuple[Callable[[Raw, random.Random], Raw], ...] = (
    scaled, scaled, scaled, one_left_out, other_units, renamed, opened, cut,
)  # fmt: skip


def changed(raw: Raw, chance: random.Random) -> tuple[Raw, str]:
    """A van changed in one to three ways, and the names of these."""
    ways = chance.sample(WAYS, chance.randint(1, 3))
    raw = copy.deepcopy(raw)
    for way in ways:
        raw = way(raw, chance)
    return raw, "+".join(sorted({way.__name__ for way in ways}))


# --- drawn once ---------------------------------------------------------------------------------------------


def small_vans() -> dict[str, Raw]:
    """Every kind of pump, off-grid and on the mains, and two joined tanks."""
    from tests.pumped import KINDS, on_the_mains, pumped, two_tanks

    vans = {f"pumped {kind}": pumped(kind) for kind in KINDS}
    vans |= {f"mains {kind}": on_the_mains(kind, valve=bool(n % 3)) for n, kind in enumerate(KINDS)}
    vans |= {f"two tanks {kind}": two_tanks(kind) for kind in KINDS if kind != "submersible"}
    vans["two tanks at two heights"] = two_tanks("diaphragm", "25 cm")
    return vans


def every_shape(count: int) -> list[Raw]:
    """Plans of the strategies, from next to nothing to all there is."""
    from hypothesis import HealthCheck, Phase, given, seed, settings

    from tests.strategies import plans

    drawn: list[Raw] = []

    @seed(SEED)
    @settings(
        max_examples=count,
        database=None,
        phases=[Phase.generate],
        suppress_health_check=list(HealthCheck),
        deadline=None,
    )
    @given(plans())
    def draw(raw: Raw) -> None:
        drawn.append(raw)

    draw()
    return drawn


def numbers(raw: Raw) -> int:
    """How many numbers ``--why`` unfolds; -1 where the code refuses the plan, or worse: half-written ones may be."""
    from tests.net.record import answered, kept

    try:
        keys = kept(answered(raw))["numbers"]
    except Exception:
        return -1
    return sum("|" not in key for key in keys)


def draw() -> dict[str, Raw]:
    """Two hundred plans by name."""
    chance = random.Random(SEED)
    small = small_vans()
    examples = {path.stem: tomllib.loads(path.read_text(encoding="utf-8")) for path in sorted(EXAMPLES.glob("*.toml"))}
    starts = [*small.items(), *((name, raw) for name, raw in examples.items() for _ in range(OFTEN[name]))]
    plans = dict(small)
    while len(plans) < len(small) + CHANGED:
        start, raw = chance.choice(starts)
        raw, ways = changed(raw, chance)
        if numbers(raw) >= 0 and raw not in plans.values():
            plans[f"{len(plans):03} {start} {ways}"] = raw
    counts = sorted(((numbers(raw), n, raw) for n, raw in enumerate(every_shape(30 * FREE))), key=lambda row: row[:2])
    poor, rich = ([raw for count, _, raw in counts if low <= count <= high] for low, high in ((0, 0), (1, 1000)))
    chosen = chance.sample(poor, 8)
    wanted = FREE - len(chosen)
    chosen += [rich[(n + 1) * len(rich) // wanted - 1] for n in range(wanted)]
    return plans | {f"{n:03} every shape": raw for n, raw in enumerate(chosen, start=len(plans))}


if __name__ == "__main__":
    FILE.write_bytes(lzma.compress(json.dumps(draw(), ensure_ascii=False).encode(), preset=9))
