"""One number of a sweep as a chart: a curve over the values of an address, one for each of a second one, or bars."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import numpy as np

from vanwater.answers.core.chart import Axis, Bars, Chart, Line, Role
from vanwater.answers.core.statement import say
from vanwater.options.designs import Axis as Swept
from vanwater.options.designs import Value
from vanwater.quantities import Array, Quantity

__all__ = ["chart_of_sweep"]

_ROLES: tuple[Role, ...] = ("fresh", "hot", "battery", "heat", "cold")
"""One for each curve; no more can be told apart."""


def chart_of_sweep(axes: Sequence[Swept], key: str, numbers: Array, quantity: Quantity, us: bool = False) -> Chart:
    """Draw a number of a sweep.

    Parameters
    ----------
    axes : sequence of Axis
        The addresses that were swept, one or two.
    key : str
        The number.
    numbers : array
        One axis an address [SI].
    quantity : Quantity
        What it is a number of.
    us : bool
        US units in the names of curves and bars.

    Returns
    -------
    Chart
        A curve where the first address holds numbers, bars where it holds names, counts or parts.

    Raises
    ------
    ValueError
        When more than two addresses, or more than five values of the second one, were swept; when no number is known.
    """
    if len(axes) > 2 or (len(axes) == 2 and len(axes[1].values) > len(_ROLES)):
        raise ValueError(f"{key}: a chart shows one address, or two with at most {len(_ROLES)} values of the second")
    if not np.isfinite(numbers).any():
        raise ValueError(f"{key}: no value of the sweep is known, so there is nothing to draw")
    first = axes[0]
    table = numbers.reshape(len(first.values), -1)
    names = [_name(axes[1], value, us) for value in axes[1].values] if len(axes) == 2 else [""]
    title, told = say("{key} over {address}", key=key, address=first.address), say("The values of {key}.", key=key)
    if first.quantity is None:
        bars = [
            Bars(role, tuple(_name(first, value, us) for value in first.values), column, label=name)
            for role, column, name in zip(_ROLES, table.T, names, strict=False)
        ]
        return Chart("sweep", title, Axis(key, quantity), Axis(first.address), tuple(bars), told)
    x = np.asarray(first.values, dtype=np.float64)
    order = np.argsort(x)
    lines = [
        Line(role, x[order], column[order], name)
        for role, column, name in zip(_ROLES, table.T, names, strict=False)
        if np.isfinite(column).any()
    ]
    return Chart(
        "sweep", title, Axis(first.address, first.quantity, zero=False), Axis(key, quantity), tuple(lines), told
    )


def _name(axis: Swept, value: Value, us: bool) -> str:
    """A value of an axis in words; a whole part by what it says."""
    if axis.quantity is not None and isinstance(value, float):
        return axis.quantity.text(value, us)
    if isinstance(value, Mapping):
        return ", ".join(f"{key} {inner}" for key, inner in value.items() if isinstance(inner, str | int | float))
    return "none" if value is None else str(value)
