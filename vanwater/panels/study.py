"""What takes too long to follow every move: worked out when somebody looks, grey as soon as the bench moves."""

from __future__ import annotations

import html
from collections import OrderedDict
from collections.abc import Callable, Sequence
from typing import Any, TypeAlias

import ipywidgets as widgets

from vanwater.answers.core.number import Number
from vanwater.answers.core.statement import plain
from vanwater.panels.asleep import asleep
from vanwater.panels.cells import show_widget
from vanwater.panels.followed import Followed
from vanwater.panels.guard import alert, guarded, reason
from vanwater.panels.live import ASIDE, Live
from vanwater.panels.pieces import Shown
from vanwater.panels.style import STYLE
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError

__all__ = ["AGAIN", "Study", "Work"]

AGAIN = "show again"
"""On the button that works it out once more."""

Work: TypeAlias = Callable[..., Shown]
"""Works it out: told a plan and what stands in each box."""

_KEPT = 6  # states that are held, so that a step back shows at once what was worked out before
_GREY = "opacity:.4;filter:grayscale(1)"


class Study(Live):
    """Something of a plan that is worked out only when somebody asks for it.

    Parameters
    ----------
    bench : Followed
        Whose plan it is.
    title : str
        What it is.
    work : callable
        Works it out from a plan and what stands in the boxes.
    boxes : callable
        Makes what can be chosen or typed, by the plan that stands.
    """

    def __init__(self, bench: Followed, title: str, work: Work, boxes: Callable[[Plan], Sequence[Any]]) -> None:
        super().__init__(bench, lambda _: self._worked())
        self._title, self._work, self._make_boxes = title, work, boxes
        self._known: OrderedDict[Any, Shown] = OrderedDict()
        self._last: Shown | None = None
        self._old = ""  # why it is grey; empty where it is of now
        self.again = widgets.Button(description=AGAIN, tooltip=f"work it out for the plan as it stands: {title}")
        self._anew = guarded(self.anew, self._keep)
        self.again.on_click(lambda _: self._anew())
        self.boxes: tuple[Any, ...] = ()
        line = widgets.HBox()
        line.add_class("vw-bar")
        self._line = line
        self.widget: Any = widgets.VBox([widgets.HTML(STYLE), line])
        self.widget.add_class("vw-panel")
        self._lay()

    @property
    def stale(self) -> bool:
        """Whether it belongs to another state of the bench than the one that stands."""
        return self._key not in self._known

    @property
    def numbers(self) -> tuple[Number, ...]:
        """None: what it shows are other designs than the one under the hand."""
        return ()

    def __repr__(self) -> str:
        return str(self._bundle()["text/plain"])

    @property
    def piece(self) -> Shown:
        """What was worked out last; of now, where no cell shows it."""
        if self._last is None or not self._places:
            try:
                return self._worked()
            except PlanError:
                return self._last or Shown(f"<p>{ASIDE}</p>", ASIDE)
        return self._last

    def anew(self) -> None:
        """Work it out for the plan as it stands."""
        self._worked()
        self._follow()

    def loaded(self) -> None:
        """Another plan: nothing of the old one is known, and the boxes offer what the new one has."""
        super().loaded()
        self._known.clear()
        self._lay()

    def moved(self) -> None:
        """The button offers itself at once."""
        self.again.disabled = not self.stale

    def _follow(self) -> None:
        _ = self._bench.plan  # an impossible one leaves all grey, with the reason
        self.again.disabled = not self.stale
        if self.stale and self._last is not None:
            if not self._old:
                self._old = f"For the plan before the last move. Press “{AGAIN}” to work it out as the plan stands now."
                self._aside = True
                self._put()
            return
        self._old = ""
        super()._follow()

    def _keep(self, message: str) -> None:
        self._old = ""
        super()._keep(message)

    @property
    def _key(self) -> Any:
        return (self._bench.state.key, *(box.value for box in self.boxes))

    def _worked(self) -> Shown:
        """What belongs to the state that stands, worked out where it is not known."""
        plan, key = self._bench.plan, self._key
        if key not in self._known:
            try:
                inside = self._work(plan, *(box.value for box in self.boxes))
            except PlanError as error:
                inside = _refused(reason(error))
            except KeyError as error:
                inside = _refused(((str(error.args[0]), ""),))
            self._known[key] = self._headed(inside)
            while len(self._known) > _KEPT:
                self._known.popitem(last=False)
        self._known.move_to_end(key)
        self._last, self._old = self._known[key], ""
        return self._last

    def _headed(self, inside: Shown) -> Shown:
        """With the plan that it belongs to."""
        there = f"{self._bench.state.situation}: " if self._bench.state.situation else ""
        moved = "; ".join(self._bench.changes)
        told = plain(
            f"{there}for the plan with {moved}." if moved else f"{there}for the plan as it is saved.", "terminal"
        )
        said = told[:1].upper() + told[1:]
        return Shown(f"<p><i>{html.escape(said)}</i></p>{inside.html}", f"{said}\n{inside.text}")

    def _bundle(self, above: str = "") -> dict[str, Any]:
        if not self._old:
            return super()._bundle(above)
        assert self._last is not None
        said = f"<p><i>{html.escape(self._old)}</i></p>"
        return {
            "text/html": f'{said}<div style="{_GREY}">{self._last.html}</div>',
            "text/plain": f"{self._old}\n{self._last.text}",
        }

    def _lay(self) -> None:
        base = self._bench.base
        self.boxes = tuple(self._make_boxes(base))
        for box in self.boxes:
            box.observe(lambda _: self._anew(), "value")
        self._line.children = (*self.boxes, self.again)
        self.again.disabled = True

    def _ipython_display_(self) -> None:
        """Be worked out, shown in a cell, with the boxes and the button below."""
        super()._ipython_display_()
        asleep(self._bench, self._title, able="choose another")._ipython_display_()
        show_widget(self.widget)


def _refused(said: tuple[tuple[str, str], ...]) -> Shown:
    return Shown(alert(said), " ".join(f"{what} {do}".strip() for what, do in said))
