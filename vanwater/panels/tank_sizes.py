"""What a tank holds and weighs, beside the controls of its size."""

from __future__ import annotations

import math
from collections.abc import Sequence

import ipywidgets as widgets

from vanwater.answers.core.key import key_text
from vanwater.answers.core.number import Number
from vanwater.panels import markup
from vanwater.panels.bench import Bench
from vanwater.panels.guard import guarded
from vanwater.plan.tanks import SIDES

__all__ = ["TankSizes"]

_SIZES = {"capacity", *(side for sides in SIDES.values() for side in sides)}


class TankSizes:
    """One line below a tank's controls: what may be used of it, its water's mass, the payload that is left.

    Parameters
    ----------
    bench : Bench
        Whose plan it is.
    tank : str
        Its name.
    """

    def __init__(self, bench: Bench, tank: str) -> None:
        self._bench = bench
        self._told = (
            ("stay", key_text(("tank", tank, "usable")), "usable"),
            ("weight", key_text(("tank", tank, "mass")), "full"),
            ("weight", "van.payload", "payload left"),
        )
        self.numbers: tuple[Number, ...] = ()
        self.widget = widgets.HTML()
        self.widget.add_class("vw-sizes")
        self.refresh = guarded(self._follow, lambda _: self._stale())

    @staticmethod
    def suits(addresses: Sequence[str]) -> bool:
        """Whether some controls of one part are those of a tank's size."""
        return addresses[0].startswith("tanks.") and any(address.split(".")[-1] in _SIZES for address in addresses)

    def _follow(self) -> None:
        numbers = [(self._bench.ask(question).numbers.get(key), words) for question, key, words in self._told]
        known = [(number, words) for number, words in numbers if number is not None and math.isfinite(number.likely)]
        self.numbers = tuple(number for number, _ in known)
        us = self._bench.us
        self.widget.value = " · ".join(f"{markup.said(number.amount, us)} {words}" for number, words in known)
        self.widget.remove_class("vw-stale")

    def _stale(self) -> None:
        """What stood there stays, grey."""
        self.numbers = ()
        self.widget.add_class("vw-stale")
