"""All controls of a panel: grouped by part, at most seven in sight, the rest folded."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from functools import partial
from typing import Any

import ipywidgets as widgets

from vanwater.answers.core.statement import plain
from vanwater.panels.bench import Bench, Follower
from vanwater.panels.collapsible import Collapsible
from vanwater.panels.control import Control, control_for
from vanwater.panels.control_selection import IN_SIGHT
from vanwater.panels.labels import sorted_by_part
from vanwater.panels.tank_sizes import TankSizes

__all__ = ["ControlGroup"]


class ControlGroup:
    """The left side of a panel.

    Parameters
    ----------
    bench : Bench
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
        self, bench: Bench, sight: Sequence[str], rest: Sequence[str], by: Follower, title: str = "more"
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
