"""Values from Python that are not believable in a van: a named warning with the likely slip, never an error.

A plan's file refuses such a value. Python gives SI numbers and may mean what it says: it is told, and goes on.
"""

from __future__ import annotations

import math
import re
import sys
import types
import typing
import warnings
from collections.abc import Callable
from functools import wraps
from inspect import signature
from typing import ParamSpec, TypeAlias, TypeVar

import numpy as np

from vanwater.quantities.quantity import Quantity
from vanwater.quantities.reading import QuantityError
from vanwater.quantities.vocabulary import RATIO

__all__ = ["OutOfRangeWarning", "believed", "quantity_of"]

P = ParamSpec("P")
R = TypeVar("R")

_SLACK = 1e-9
"""Of the range: what a rounding error may lie beyond it, as where a text is read."""

Told: TypeAlias = set[tuple[str, str, int]]
"""Argument, file and line of what a function has warned of."""


class OutOfRangeWarning(UserWarning):
    """A value that is possible in physics, but not believable in a van: mostly a slip of units."""


def believed(function: Callable[P, R], but: frozenset[str] = frozenset()) -> Callable[P, R]:
    """The function, warning of finite arguments outside the believable range of their quantity.

    It warns once a function, argument and line of the caller, so that a loop is told once and a corrected cell is
    looked at anew; as an error (``warnings.simplefilter("error", OutOfRangeWarning)``) each time.

    Parameters
    ----------
    function : callable
        Its arguments are annotated with quantities; others are not looked at, nor are mere ratios.
    but : frozenset of str
        Names of arguments that are not looked at either.

    Returns
    -------
    callable
        Same name, signature and result.
    """
    limits: list[tuple[str, Quantity | None]] = []
    told: Told = set()

    @wraps(function)
    def call(*args: P.args, **given: P.kwargs) -> R:
        if not limits:
            hints = typing.get_type_hints(function, include_extras=True)
            for name in signature(function).parameters:
                quantity = quantity_of(hints.get(name))
                limits.append((name, None if quantity is RATIO or name in but else quantity))
        for (name, quantity), value in zip(limits, args, strict=False):
            if quantity is not None and _beyond(value, quantity):
                _warn(function, name, quantity, value, told)
        if given:
            for name, quantity in limits:
                if quantity is not None and name in given and _beyond(given[name], quantity):
                    _warn(function, name, quantity, given[name], told)
        return function(*args, **given)

    return call


def quantity_of(hint: object) -> Quantity | None:
    """The quantity that an annotation carries, looked for inside unions too.

    Parameters
    ----------
    hint : object
        A resolved annotation.

    Returns
    -------
    Quantity or None
        The first one.
    """
    for extra in getattr(hint, "__metadata__", ()):
        if isinstance(extra, Quantity):
            return extra
    if typing.get_origin(hint) in (typing.Union, types.UnionType):
        return next(filter(None, map(quantity_of, typing.get_args(hint))), None)
    return None


def _beyond(value: object, quantity: Quantity) -> bool:
    """Whether any finite number of a value lies outside; "nan" and "inf" have their own meaning."""
    low = quantity.low if quantity.low else -quantity.high  # a flow may run backwards: no slip of units
    slack = _SLACK * max(abs(low), abs(quantity.high))
    low, high = low - slack, quantity.high + slack
    if isinstance(value, float | int):
        return not low <= value <= high and math.isfinite(value)
    if not isinstance(value, np.ndarray | list | tuple | np.generic):
        return False  # a record, or None
    numbers = np.asarray(value)
    return numbers.dtype.kind in "fiu" and bool(np.any(((numbers < low) | (numbers > high)) & np.isfinite(numbers)))


def _warn(function: Callable[..., object], name: str, quantity: Quantity, value: object, told: Told) -> None:
    caller = sys._getframe(2)
    place = (name, caller.f_code.co_filename, caller.f_lineno)
    if place in told:
        return
    numbers = np.atleast_1d(np.asarray(value, dtype=np.float64)).ravel()
    outside = [number for number in numbers.tolist() if _beyond(number, quantity)]
    warnings.warn(OutOfRangeWarning(_message(function.__name__, name, quantity, outside)), stacklevel=3)
    told.add(place)


def _message(function: str, name: str, quantity: Quantity, outside: list[float]) -> str:
    unit = "" if quantity.si == "1" else f" {quantity.si}"
    first = outside[0]
    more = f" (and {len(outside) - 1} more)" if len(outside) > 1 else ""
    told = f"{function}: {name} = {first:.6g}{unit}{more} is not believable in a van"
    try:
        quantity.bounded(first, number=first)
    except QuantityError as error:
        slip = re.sub(r'"(.+)"', lambda text: f"{text[1]}, which is {quantity.read(text[1]):.6g}{unit}", error.slip)
        return f"{told}, where it is {error.expected}. {slip}".strip()
    return told
