"""All controls of a panel: grouped by part, at most seven in sight, the rest folded; and what a tank holds."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from functools import partial
from typing import Any

import ipywidgets as widgets

from vanwater.answers.core.key import key_text
from vanwater.answers.core.number import Number
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import plain
from vanwater.panels import markup
from vanwater.panels.collapsible import Collapsible
from vanwater.panels.control import Control, control_for
from vanwater.panels.followed import Followed, Follower
from vanwater.panels.guard import guarded
from vanwater.panels.labels import sorted_by_part
from vanwater.panels.part_picks import picks
from vanwater.plan.model import Plan
from vanwater.plan.tanks import SIDES

__all__ = ["IN_SIGHT", "ControlGroup", "TankSizes", "controls_for"]


class ControlGroup:
    """The left side of a panel.

    Parameters
    ----------
    bench : Followed
        Whose plan the controls move.
    sight, rest : sequence of str
        Addresses of the controls in sight and of the folded ones.
    by : Follower
        What follows at once when a hand moves one of them.
    title : str
        What the folded ones are called.

    Raises
    ------
    ValueError
        When more than seven are to be in sight.
    """

    def __init__(
        self, bench: Followed, sight: Sequence[str], rest: Sequence[str], by: Follower, title: str = "more"
    ) -> None:
        if len(sight) > IN_SIGHT:
            raise ValueError(f"{len(sight)} controls in sight; at most {IN_SIGHT} can be read at a glance")
        self.bench, self._by = bench, by
        self.controls: dict[str, Control] = {}
        self.sizes: list[TankSizes] = []
        folded = [address for address in rest if address not in sight]
        self.more = Collapsible(title, lambda: "", titled=False, inside=lambda: list(self._grouped(folded)))
        tail = [self.more.button, self.more.body] if folded else []
        self.widget = widgets.VBox([*self._grouped(sight), *tail])
        self.widget.add_class("vw-controls")

    def unfold(self) -> Mapping[str, Control]:
        """All controls by address, those that are folded made if they were not yet."""
        self.more.open_up()
        return self.controls

    def moved(self) -> None:
        """Let the controls stand where the bench stands."""
        bench = self.bench
        impossible = bench.refused is not None
        for address, control in self.controls.items():
            handed = address in bench.values
            if impossible and not handed and not control.handed:
                continue  # it follows others, and nobody knows where they lead
            control.show(bench.field(address), bench.value(address), handed)

    def refresh(self) -> None:
        """Tell what the tanks hold and weigh."""
        for size in self.sizes:
            size.refresh()

    def _grouped(self, addresses: Sequence[str]) -> Iterator[Any]:
        for part in sorted_by_part(tuple(addresses)):
            controls = [self._control(address) for address in part]
            yield widgets.HTML(f"<h4>{plain(controls[0].field.heading, 'html')}</h4>")
            yield from (control.widget for control in controls)
            if TankSizes.suits(part):
                size = TankSizes(self.bench, part[0].split(".")[1])
                self.sizes.append(size)
                size.refresh()
                yield size.widget

    def _control(self, address: str) -> Control:
        control = control_for(self.bench.field(address))
        control.turned = partial(self.bench.set, address, by=self._by)
        control.reset = partial(self.bench.back, address, self._by)
        control.show(self.bench.field(address), self.bench.value(address), address in self.bench.values)
        self.controls[address] = control
        return control


_SIZES = {"capacity", *(side for sides in SIDES.values() for side in sides)}


class TankSizes:
    """One line below a tank's controls: what may be used of it, its water's mass, the payload that is left.

    Parameters
    ----------
    bench : Followed
        Whose plan it is.
    tank : str
        Its name.
    """

    def __init__(self, bench: Followed, tank: str) -> None:
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


IN_SIGHT = 7
"""How many controls are in sight; the others are folded."""


def controls_for(plan: Plan, answer: Answer) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Addresses of the controls for an answer.

    Parameters
    ----------
    plan : Plan
        The plan.
    answer : Answer
        What it says.

    Returns
    -------
    tuple of two tuples of str
        Those in sight, and those that are folded.
    """
    every = tuple(dict.fromkeys(answer.question.controls(plan, answer)))
    return every[:IN_SIGHT], (*every[IN_SIGHT:], *picks(plan, every))
