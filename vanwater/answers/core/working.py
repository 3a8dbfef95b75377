"""Numbers and what they are made of: by a formula of the physics, by pieces that add up, as planned, as a limit.

The docstring is the sum. :func:`step` calls a function of the physics, :func:`by` keeps a number that one has
given already; both read formula, meaning, unit and source from its docstring and annotations, so that formula,
unit, source and code cannot part. What is put in may itself be a number: then the sum unfolds as a tree.
:func:`stated` does the same for a number without a closed formula, by the pieces that add up to it.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import fields, is_dataclass
from enum import Enum
from functools import partial
from typing import Any, TypeAlias, get_type_hints

import numpy as np

from vanwater.answers.core.amount import Amount
from vanwater.answers.core.docstring import Documented, documented, quantity_of
from vanwater.answers.core.number import Number
from vanwater.answers.core.pieces import AS_PLANNED, Piece, Shown, Working
from vanwater.answers.core.statement import Say, say
from vanwater.plan.model import Plan
from vanwater.quantities import Array, Quantity, Real

__all__ = ["Part", "Put", "by", "limit", "planned", "recomputed", "stated", "step"]

Put: TypeAlias = "Number | Say | str | tuple[Real, Quantity]"
"""What stands in a sum: a number, words, or a bare value of the plan or of a solution with its quantity."""

Part: TypeAlias = "tuple[str, Put]"

_ADDS_UP = 1e-6


def step(name: str, function: Callable[..., object], /, *, take: str = "", **given: object) -> Number:
    r"""Call a function of the physics and keep its sum.

    Parameters
    ----------
    name : str
        What the result is called here.
    function : callable
        A public function of the physics: documented, its arguments and result annotated with quantities.
    take : str
        Field of the result to keep, where the function returns a dataclass.
    **given : float, array, Number or other
        The function's arguments; a number stands for its values.

    Returns
    -------
    Number
        The result with what was put in, formula and source; see :meth:`Number.keyed` for its key and range.

    Raises
    ------
    ValueError
        When the result has no quantity, or ``take`` is missing or not a field of the result.
    TypeError
        When the function does not take these arguments.

    Examples
    --------
    >>> from vanwater.quantities import Area, Flow, Real, Speed
    >>> def speed(flow: Flow[Real], area: Area[Real]) -> Speed[Array]: return np.asarray(flow / area)
    >>> step("speed in the hose", speed, flow=1e-4, area=1e-4).text()
    '1\xa0m/s'
    """
    quantity, _ = documented(function).result(take)
    got = function(**{argument: _number(value) for argument, value in given.items()})
    return by(name, getattr(got, take) if take else got, quantity, function, take=take, **given)


def by(
    name: str, value: object, quantity: Quantity, function: Callable[..., object], /, *, take: str = "", **given: object
) -> Number:
    """Keep a number that a function of the physics has given already; it is not called again.

    Parameters
    ----------
    name : str
        What the number is called here.
    value : float or array
        What the function gave, one number a row [SI].
    quantity : Quantity
        What it is a number of.
    function : callable
        The function that gave it.
    take : str
        Field of its result that this is, where it returns a dataclass.
    **given : float, array, Number, callable or other
        The arguments that belong to this number; a callable is asked when the sum is first read.

    Returns
    -------
    Number
        With the function's own formula and source. A test calls the function once more and compares.
    """
    values = np.array(value, dtype=np.float64)
    kept = {argument: put.copy() if isinstance(put, np.ndarray) else put for argument, put in given.items()}
    several = values.size != 1 and (values.ndim != 1 or values.size == 0)
    words = _several(values, quantity) if several else None
    return Number(name, quantity, values, partial(_worked, function, take, kept), words=words)


def stated(
    name: str,
    value: Real,
    quantity: Quantity,
    method: str,
    *,
    parts: Sequence[Part] | Callable[[], Sequence[Part]] = (),
    facts: Sequence[Part] | Callable[[], Sequence[Part]] = (),
    residual: tuple[float, Quantity] | None = None,
    source: str = "",
    note: str = "",
) -> Number:
    """Keep a number that has no closed formula.

    Parameters
    ----------
    name : str
        What it is called here.
    value : float or array
        One number a row [SI].
    quantity : Quantity
        What it is a number of.
    method : str
        How it was found, in one sentence.
    parts : sequence of (label, number), or what gives it
        The pieces that add up to it.
    facts : sequence of (label, number or words), or what gives it
        What else belongs beside it: count, seed and quantile of a simulation, the closed form.
    residual : (float, Quantity), optional
        What the solution left unbalanced.
    source : str
        Published source of the method, or "common practice".
    note : str
        Range of validity and assumptions.

    Returns
    -------
    Number
        Its pieces are put together when its sum is first read; pieces that do not add up raise ValueError then.
    """
    values = np.asarray(value, dtype=np.float64)
    working = partial(_stated, name, values, quantity, method, parts, facts, residual, source, note)
    return Number(name, quantity, values, working)


def planned(plan: Plan, address: str, quantity: Quantity, digits: int = 3) -> Number:
    """A number as the plan gives it.

    Parameters
    ----------
    plan : Plan
        The plan.
    address : str
        Where it stands; that is its key too.
    quantity : Quantity
        What it is a number of.
    digits : int
        Significant digits that are shown.

    Returns
    -------
    Number
        nan where the plan does not give it.
    """
    value = plan.at(address)
    values = np.asarray(math.nan if value is None else value, dtype=np.float64)
    key = tuple(address.split("."))
    return Number(address, quantity, values, AS_PLANNED, key, exact="as planned", digits=digits)


def limit(name: str, value: float, quantity: Quantity, source: str, meaning: str = "", digits: int = 3) -> Number:
    """A number that others are held against.

    Parameters
    ----------
    name : str
        What it limits: "spare of a permitted load".
    value : float
        The limit [SI].
    quantity : Quantity
        What it is a number of.
    source : str
        Published source, or "common practice".
    meaning : str
        Why, in one sentence.
    digits : int
        Significant digits that are shown.

    Returns
    -------
    Number
        Its key is ("limit", name).
    """
    working = Working(meaning or "A limit that is taken as given.", source=source)
    return Number(name, quantity, np.asarray(value), working, ("limit", name), exact="a limit", digits=digits)


def recomputed(number: Number) -> Array | None:
    """The number once more, by the function that its sum names; None where its sum names none.

    Raises
    ------
    ValueError
        When the function's docstring names another quantity.
    """
    sum_ = number.made_of
    if sum_.function is None:
        return None
    quantity, _ = documented(sum_.function).result(sum_.take)
    if quantity.si != number.quantity.si:
        raise ValueError(f"{number.name}: a number of {number.quantity.name}, but the function gives {quantity.name}")
    got = sum_.function(**{argument: _number(value) for argument, value in sum_.arguments.items()})
    return np.asarray(getattr(got, sum_.take) if sum_.take else got, dtype=np.float64)


def _worked(function: Callable[..., object], take: str, given: dict[str, object]) -> Working:
    read, given = documented(function), {name: put() if callable(put) else put for name, put in given.items()}
    pieces, meaning = tuple(_pieces(read, given)), read.result(take)[1] or read.meaning
    return Working(meaning, read.formula, pieces, read.source, read.note, (), function, given, take)


def _stated(
    name: str,
    values: Array,
    quantity: Quantity,
    method: str,
    parts: Sequence[Part] | Callable[[], Sequence[Part]],
    facts: Sequence[Part] | Callable[[], Sequence[Part]],
    residual: tuple[float, Quantity] | None,
    source: str,
    note: str,
) -> Working:
    pieces = tuple(Piece(label, _told(put)) for label, put in (parts() if callable(parts) else parts))
    beside = [Piece(label, _told(put)) for label, put in (facts() if callable(facts) else facts)]
    if residual is not None:
        beside.append(Piece("left unbalanced", Amount(*residual)))
    _add_up(name, float(values.flat[0]), quantity, pieces, residual)
    return Working(method, "", pieces, source, note, tuple(beside))


def _told(put: Put) -> Shown | Number | str:
    if isinstance(put, tuple):
        return Amount(float(np.ravel(put[0])[0]), put[1])
    return put


def _add_up(
    name: str, result: float, quantity: Quantity, pieces: Sequence[Piece], residual: tuple[float, Quantity] | None
) -> None:
    """Refuse pieces that are of another quantity than the result or add up to something else."""
    if not pieces or not math.isfinite(result):
        return
    numbers = []
    for piece in pieces:
        put = piece.value.amount if isinstance(piece.value, Number) else piece.value
        if not isinstance(put, Amount) or put.quantity.si != quantity.si:
            raise ValueError(f"{name}: a piece is of another quantity than the result")
        numbers.append(put.value)
    left = abs(residual[0]) if residual is not None and residual[1].si == quantity.si else 0.0
    if not abs(sum(numbers) - result) <= left + _ADDS_UP * max(map(abs, numbers)):
        raise ValueError(f"{name}: the pieces add up to {sum(numbers):g}, not to the result {result:g}")


def _number(value: object) -> object:
    if isinstance(value, Number):
        return value.values
    return value.value if isinstance(value, Amount) else value


def _pieces(read: Documented, given: dict[str, object]) -> Iterator[Piece]:
    for name, argument in read.arguments.items():
        value = given.get(name, argument.default)
        if value is None:
            continue
        words: Shown | Number | str
        if isinstance(value, Number | Amount):
            words = value
        elif argument.quantity is None:
            words = value.name.lower().replace("_", " ") if isinstance(value, Enum) else _plain_words(value)
        else:
            words = _shown(np.asarray(value, dtype=np.float64), argument.quantity, argument.series)
        yield Piece(name, words, argument.symbol, argument.meaning)


def _plain_words(value: object) -> Say | str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return value if isinstance(value, str) else getattr(value, "name", None) or _record(value)


def _record(value: Any) -> Say:
    """What a record of the physics holds, by the names of its fields: "cut in 1.4 bar, cut out 2.6 bar"."""
    hints = get_type_hints(type(value), include_extras=True)
    held: dict[str, Say | Amount | tuple[Say, ...]] = {}
    for name in (each.name for each in fields(value) if each.init):
        inner, (quantity, series) = getattr(value, name), quantity_of(hints[name])
        if quantity is not None:
            held[name] = _shown(np.asarray(inner, dtype=np.float64), quantity, series)
        elif isinstance(inner, tuple):
            held |= {name: tuple(map(_record, inner))} if inner else {}
        elif is_dataclass(inner):
            held[name] = _record(inner)
    return say(", ".join(f"{name.replace('_', ' ')} {{{name}}}" for name in held), **held)


def _shown(value: Array, quantity: Quantity, series: bool) -> Amount | Say:
    """The first row in words; the ends where one row holds several numbers that are not alike."""
    row = value if value.ndim == 0 or (series and value.ndim == 1) else value[0]
    return Amount(float(row.flat[0]), quantity) if row.size and _alike(row, quantity) else _several(row, quantity)


def _several(value: Array, quantity: Quantity) -> Say:
    row = value if value.ndim < 2 else value[0]
    if row.size == 0:
        return say("none")
    low, high = Amount(float(row.min()), quantity), Amount(float(row.max()), quantity)
    if _alike(row, quantity):
        return say("{each} in each of {count} values", each=low, count=row.size)
    return say("{low} to {high} in {count} values", low=low, high=high, count=row.size)


def _alike(row: Array, quantity: Quantity) -> bool:
    """Whether several numbers would be told by the same digits, in either system of units."""
    low, high = Amount(float(row.min()), quantity), Amount(float(row.max()), quantity)
    return all(low.text(us) == high.text(us) for us in (False, True))
