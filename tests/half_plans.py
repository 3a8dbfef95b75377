"""The example vans half written: cut off, shuffled, with pieces, fields or runs' measures taken out."""

from __future__ import annotations

import itertools
import random
import tomllib
from collections.abc import Callable, Iterator
from functools import cache
from typing import Any, TypeAlias

from tests.examples import NAMES, PLANS
from vanwater.plan.raw import copied

__all__ = ["Half", "Raw", "cut", "field_out", "orders", "pieces_out", "poor", "raw_example"]

Raw: TypeAlias = dict[str, Any]
Half: TypeAlias = tuple[str, Raw]
"""What was done to which van, and its tables then."""

PIECES = ("runs", "tees", "mixers", "pumps", "heaters")


def raw_example(name: str) -> Raw:
    """The tables of an example."""
    return copied(_read(name))


@cache
def _read(name: str) -> Raw:
    return tomllib.loads((PLANS / f"{name}.toml").read_text(encoding="utf-8"))


def cut() -> Iterator[Half]:
    """Each example cut before each of its tables but the first, and after each line that ends a statement."""
    for name in NAMES:
        lines = (PLANS / f"{name}.toml").read_text(encoding="utf-8").splitlines(keepends=True)
        for most in range(1, len(lines)):
            if not lines[most - 1].strip() or lines[most - 1].startswith("#"):
                continue
            try:
                raw = tomllib.loads("".join(lines[:most]))
            except tomllib.TOMLDecodeError:
                continue  # within a list
            if raw:
                yield f"{name} up to line {most}", raw


def pieces_out(count: int) -> Iterator[Half]:
    """Each run, tee, mixing tap, pump and heater of each example deleted, and each pair of them."""
    for name in NAMES:
        places = [(table, piece) for table in PIECES for piece in raw_example(name).get(table, {})]
        for gone in itertools.combinations(places, count):
            raw = raw_example(name)
            for table, piece in gone:
                del raw[table][piece]
            yield f"{name} without {' and '.join('.'.join(place) for place in gone)}", raw


def orders(seed: int = 1, count: int = 3) -> Iterator[Half]:
    """Each example with its tables and their entries turned round, and in orders of chance."""
    chance = random.Random(seed)
    for name in NAMES:
        for number in range(count):
            shuffled = _turned if number == 0 else lambda entries: chance.sample(entries, len(entries))
            yield f"{name} in order {number}", _ordered(raw_example(name), shuffled)


def _turned(entries: list[Any]) -> list[Any]:
    return entries[::-1]


def _ordered(raw: Raw, shuffled: Callable[[list[Any]], list[Any]], depth: int = 2) -> Raw:
    tables = dict(shuffled(list(raw.items())))
    if depth == 1:
        return tables
    return {
        key: _ordered(value, shuffled, depth - 1) if isinstance(value, dict) else value for key, value in tables.items()
    }


def field_out() -> Iterator[tuple[str, Raw, str]]:
    """Each example with one field taken out, and the address of that field."""
    for name in NAMES:
        raw = raw_example(name)
        for table, entries in raw.items():
            for entry, fields in entries.items():
                for field in fields if isinstance(fields, dict) else (None,):
                    less = copied(raw)
                    if field is None:
                        del less[table][entry]
                    else:
                        del less[table][entry][field]
                    address = ".".join(filter(None, (table, entry, field)))
                    yield f"{name} without {address}", less, address


def poor() -> Iterator[Half]:
    """Each example up to its runs or whole, with measures that a builder leaves for later, or gets very wrong."""
    for name in NAMES:
        for told, change in POOR.items():
            raw = raw_example(name)
            change(raw)
            yield f"{name}: {told}", raw
            bare = copied(raw)
            behind = {run for run, ends in bare.get("runs", {}).items() if ends["from"] in bare.get("pumps", {})}
            bare["runs"] = {run: ends for run, ends in bare["runs"].items() if run in behind or "suction" in run}
            yield f"{name}: {told}, the first runs only", bare


def _runs(**fields: Any) -> Callable[[Raw], None]:
    def change(raw: Raw) -> None:
        for run in raw["runs"].values():
            for field, value in fields.items():
                run.pop(field, None)
                if value is not None:
                    run[field] = value

    return change


def _pumps(**fields: Any) -> Callable[[Raw], None]:
    def change(raw: Raw) -> None:
        for pump in raw["pumps"].values():
            for field, value in fields.items():
                pump.pop(field, None)
                if value is not None:
                    pump[field] = value

    return change


def _kind(kind: str) -> Callable[[Raw], None]:
    def change(raw: Raw) -> None:
        for name in raw["pumps"]:
            raw["pumps"][name] = {"kind": kind}

    return change


_WEAK = [["0 L/min", "0.4 bar"], ["8 L/min", "0 bar"]]
_SWITCH = {"kind": "diaphragm", "cut_in": "1.4 bar", "cut_out": "2.6 bar", "tank": None}

POOR: dict[str, Callable[[Raw], None]] = {
    "no run has a length": _runs(length=None),
    "no run has a bore": _runs(size=None, bore=None),
    "every run is 0 m long": _runs(length="0 m"),
    "no volts": _pumps(volts=None, curve_volts=None),
    "no curve": _pumps(curve=None),
    "weaker than its cut-in": _pumps(curve=_WEAK, curve_volts=None, volts=None, by_pass=None, **_SWITCH),
    "no cut-in": _pumps(cut_in=None),
    "no cut-out": _pumps(cut_out=None),
    "no switch": _pumps(cut_in=None, cut_out=None),
    "by-pass": _pumps(**{**_SWITCH, "kind": "by-pass"}, by_pass="2.2 bar"),
    "no tank has a height": lambda raw: [tank.pop("z", None) for tank in raw["tanks"].values()] and None,
    "no outlet has a height": lambda raw: [outlet.pop("z", None) for outlet in raw["outlets"].values()] and None,
    "no outlets": lambda raw: raw.pop("outlets") and None,
    "no tanks": lambda raw: raw.pop("tanks") and None,
    "no accumulator's pre-charge": lambda raw: (
        [a.pop("precharge", None) for a in raw.get("accumulators", {}).values()] and None
    ),
    **{f"a {kind} pump of which nothing is said": _kind(kind) for kind in ("diaphragm", "by-pass", "speed-controlled")},
    **{f"a {kind} pump of which nothing is said yet": _kind(kind) for kind in ("submersible", "foot", "hand")},
}
"""What may be missing or wrong in the middle of the work."""
