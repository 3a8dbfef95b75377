"""The public names of the physics by one door, each imported when it is first used.

``__init__.pyi`` is the list: it tells mypy and an editor what there is, and is read here for the module of each name.
"""

from __future__ import annotations

import re
from functools import cache
from importlib import import_module
from inspect import isfunction
from pathlib import Path
from typing import Any

from vanwater.quantities.believable import believed

PACKAGE = "vanwater.physics"
LINE = re.compile(r"^from (\S+) import (\w+) as \2$", re.MULTILINE)

WAVE = frozenset({"wave"})
"""A pressure wave is faster than any other speed in a van."""


@cache
def homes() -> dict[str, str]:
    """The module of every public name; the package itself for its modules."""
    text = Path(__file__).with_name("__init__.pyi").read_text(encoding="utf-8")
    return {name: home for home, name in LINE.findall(text)}


@cache
def export(name: str) -> Any:
    """What stands behind a public name; a function then looks at its arguments (``quantities/believable.py``)."""
    home = homes().get(name)
    if home is None:
        raise AttributeError(f"module {PACKAGE!r} has no attribute {name!r}", name=name, obj=import_module(PACKAGE))
    if home == PACKAGE:
        return import_module(f"{PACKAGE}.{name}")
    value = getattr(import_module(home), name)
    if not isfunction(value):
        return value
    face = believed(value, but=WAVE)
    face.__module__ = PACKAGE  # where pickle finds it
    return face
