"""What a number is called: the thing and its quantity, not the question that shows it."""

from __future__ import annotations

import re
from functools import lru_cache
from typing import TypeAlias

__all__ = ["Key", "key_text"]

Key: TypeAlias = tuple[str, ...]
"""Which thing a number belongs to, and which of its quantities it is: ("tank", "grey", "days")."""

_BARE = re.compile(r"[\w-]+")


@lru_cache(maxsize=8192)
def key_text(key: Key) -> str:
    """A key as it is typed: its parts joined by dots, a part with other signs than letters and digits in quotes.

    Parameters
    ----------
    key : tuple of str
        Kind, name, quantity, state.

    Returns
    -------
    str
        Unlike that of any other key.

    Examples
    --------
    >>> key_text(("tank", "grey", "days")), key_text(("run", "to shower", "loss"))
    ('tank.grey.days', 'run."to shower".loss')
    """
    quoted = (part.replace("\\", "\\\\").replace('"', '\\"') for part in key)
    return ".".join(part if _BARE.fullmatch(part) else f'"{part}"' for part in quoted)
