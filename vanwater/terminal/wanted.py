"""Which numbers somebody means by what he types: a key, a part of one, words of the screen, the trade's other words."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping

__all__ = ["SYNONYMS", "matching"]

SYNONYMS: Mapping[str, str] = {
    "autonomy": "days",
    "boiler": "heater",
    "drop": "loss",
    "duration": "days",
    "faucet": "tap",
    "freeze": "freezing",
    "friction": "loss",
    "gray": "grey",
    "lasts": "days",
    "potable": "fresh",
    "preload": "precharge",
    "sullage": "grey",
    "surge": "hammer",
    "toilet": "urine",
    "waste": "grey",
    "weight": "mass",
    "weighs": "mass",
}
"""Words of the trade for what keys call otherwise."""


_PASSED = frozenset({"a", "an", "at", "by", "for", "in", "of", "on", "the", "to", "with"})


def matching(wanted: str, known: Mapping[str, str]) -> tuple[str, ...]:
    """The keys that are meant.

    Parameters
    ----------
    wanted : str
        What somebody typed: a key, its end, some of its parts in any order, or words of what it is called.
    known : mapping of str to str
        What each key is called on the screen.

    Returns
    -------
    tuple of str
        Empty when none is meant; several, the shortest first, when it is not clear which.

    Examples
    --------
    >>> matching("days.grey", {"tank.fresh.days": "days of fresh", "tank.grey.days": "days of grey"})
    ('tank.grey.days',)
    >>> matching("pre-charge to set", {"pump.pump.precharge_setting": "pre-charge to set"})
    ('pump.pump.precharge_setting',)
    """
    part = wanted.casefold().strip()
    if not part:
        return ()
    if wanted in known:
        return (wanted,)
    held: dict[str, None] = {}
    for keys in _read(part, known):
        several = tuple(keys)
        if len(several) == 1 and not held:
            return several
        held |= dict.fromkeys(several)
    return tuple(sorted(held, key=lambda key: key.count("."))) or tuple(key for key in known if part in key.casefold())


def _read(part: str, known: Mapping[str, str]) -> Iterator[Iterable[str]]:
    """The keys that are meant by one reading after the other, the closest first."""
    yield (key for key in known if key.casefold() == part)
    yield (key for key in known if key.casefold().endswith(f".{part}"))
    yield (key for key in known if "." in part and set(part.split(".")) <= set(key.casefold().split(".")))
    typed = _words(part)
    for also in (False, True):  # first by the words of the key alone, then by those of the screen too
        told = ((key, {*_words(key), *(_words(name) if also else ())}) for key, name in known.items())
        yield (key for key, words in told if typed and all(any(_same(each, word) for word in words) for each in typed))


def _words(text: str) -> list[str]:
    """Words, by the names that keys use."""
    words = re.findall(r"[^\W_]+", text.casefold().replace("pre-", "pre"))
    return [SYNONYMS.get(word, word) for word in words if word not in _PASSED]


def _same(typed: str, word: str) -> bool:
    """Whether a word is the one that was typed, or begins so: "star" for "starts", but not "a" for everything."""
    return typed == word or (len(typed) > 2 and word.startswith(typed)) or (len(word) > 3 and typed == f"{word}s")
