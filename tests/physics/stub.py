"""Write the list of the physics' public names anew: ``python -m tests.physics.stub``, after a name came or went."""

from __future__ import annotations

import importlib
import pkgutil
from pathlib import Path

import vanwater.physics

FILE = Path(vanwater.physics.__file__).with_suffix(".pyi")
HEAD = '''"""Every public name of the physics and the module it lives in.

Written by ``python -m tests.physics.stub``.
"""

'''
MODULES = sorted(m.name for m in pkgutil.iter_modules(vanwater.physics.__path__) if not m.name.startswith("_"))


def names() -> dict[str, list[str]]:
    """The public names by the module they are taken from; of several that offer one, the last in the alphabet."""
    lists = {module: list(importlib.import_module(f"vanwater.physics.{module}").__all__) for module in MODULES}
    homes = {name: module for module, offered in lists.items() for name in offered}
    return {module: [n for n in lists[module] if homes[n] == module and n not in MODULES] for module in MODULES}


def text() -> str:
    """The stub."""
    lines = [f"from vanwater.physics import {module} as {module}" for module in MODULES]
    for module, offered in names().items():
        lines += [f"from vanwater.physics.{module} import {name} as {name}" for name in offered]
    return HEAD + "\n".join(lines) + "\n"


if __name__ == "__main__":
    FILE.write_text(text(), encoding="utf-8")
