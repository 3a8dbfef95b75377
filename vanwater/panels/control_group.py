"""All controls of a panel: grouped by part, at most seven in sight, the rest folded, and the way back to the plan."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Any

import ipywidgets as widgets

from vanwater.answers.core.question import Fits
from vanwater.answers.core.statement import plain
from vanwater.panels.collapsible import Collapsible
from vanwater.panels.control import Control, Value, control_for
from vanwater.panels.control_part import has_part, part_at
from vanwater.panels.control_selection import IN_SIGHT
from vanwater.panels.labels import heading, label, sorted_by_part
from vanwater.plan.address import note
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError

__all__ = ["ControlGroup"]


class ControlGroup:
    """The left side of a panel.

    Parameters
    ----------
    plan : Plan
        The saved plan.
    sight, rest : sequence of str
        Addresses of the controls in sight and of the folded ones.
    us : bool
        US units instead of metric ones.
    fits : mapping, optional
        Parts that the plan lacks and that a control may fit, with the fields that come along.

    Raises
    ------
    ValueError
        When more than seven are to be in sight.
    """

    def __init__(
        self, plan: Plan, sight: Sequence[str], rest: Sequence[str] = (), us: bool = False, fits: Fits | None = None
    ) -> None:
        if len(sight) > IN_SIGHT:
            raise ValueError(f"{len(sight)} controls in sight; at most {IN_SIGHT} can be read at a glance")
        self.saved = plan
        self.fits: Fits = fits or {}
        self.controls: Mapping[str, Control] = {
            address: control_for(plan, address, us, self.fits.get(part_at(address)))
            for address in dict.fromkeys((*sight, *rest))
        }
        self.home = widgets.Button(description="back to the plan", disabled=True)
        more = Collapsible(
            "more", lambda: "", list(self._grouped([address for address in rest if address not in sight])), titled=False
        )
        buttons = widgets.HBox([more.button, self.home] if rest else [self.home])
        self.widget = widgets.VBox([*self._grouped(sight), buttons, more.body] if self.controls else [])
        self.widget.add_class("vw-controls")

    @property
    def values(self) -> dict[str, Value]:
        """What a hand has set, by address, and what comes along with a part that it fits."""
        touched = {address: control.value for address, control in self.controls.items() if control.touched}
        return self._part_fields(touched) | touched

    @property
    def written(self) -> dict[str, str | int | bool]:
        """The same as a plan's file holds it, without what stands there already."""
        written = {
            address: control.written()
            for address, control in self.controls.items()
            if control.touched and control.differs
        }
        return self._part_fields(written) | written

    def _part_fields(self, touched: Iterable[str]) -> dict[str, Any]:
        """The first fields of each part that a turned control fits."""
        parts = dict.fromkeys(part_at(address) for address in touched if not has_part(self.saved, address))
        return {f"{part}.{key}": value for part in parts for key, value in self.fits.get(part, {}).items()}

    @property
    def changes(self) -> tuple[str, ...]:
        """What a hand has changed, in words; a plan's own text as it is."""
        turned = {address: control for address, control in self.controls.items() if control.touched and control.differs}
        changes = [
            f"{self.name(address)}: {control.text(control.saved)} → {control.text(control.value)}"
            for address, control in turned.items()
        ]
        for address, value in self._part_fields(turned).items():
            if address not in turned:
                words = label(note(type(self.saved), address), None).partition(" (")[0]
                changes.append(f"{heading(self.saved, address)}, {words}: {value}")
        return tuple(changes)

    def check(self) -> None:
        """See that every control stands on something believable.

        Raises
        ------
        PlanError
            When one does not, told in the units that are shown.
        """
        problems = [
            problem
            for control in self.controls.values()
            if control.touched and (problem := control.refusal()) is not None
        ]
        if problems:
            raise PlanError(problems)

    def name(self, address: str) -> str:
        """What the control of an address is called; empty where it has none."""
        control = self.controls.get(address)
        return f"{control.heading}, {control.label.partition(' (')[0]}" if control is not None else ""

    def settle(self, plan: Plan) -> None:
        """Take a plan as the saved one."""
        self.saved = plan
        for control in self.controls.values():
            control.settle(plan)

    def follow(self, plan: Plan) -> None:
        """Let the controls that nobody touched show what the plan says now."""
        for control in self.controls.values():
            control.follow(plan)

    def tell_changed(self) -> None:
        """Offer the way back only where there is one."""
        self.home.disabled = not self.values

    def _grouped(self, addresses: Sequence[str]) -> Iterator[Any]:
        for part in sorted_by_part(tuple(addresses)):
            yield widgets.HTML(f"<h4>{plain(self.controls[part[0]].heading, 'html')}</h4>")
            yield from (self.controls[address].widget for address in part)
