"""A panel with the plan's situations above it: the same van as written, in the snow, at the lake."""

from __future__ import annotations

from typing import Any

import ipywidgets as widgets

from vanwater.answers.situations import AS_WRITTEN
from vanwater.panels.panel import Panel
from vanwater.plan.file import PlanFile
from vanwater.plan.model import Plan

__all__ = ["Situations"]


class Situations:
    """One question about a plan in the situation that is chosen.

    Parameters
    ----------
    plan : Plan or PlanFile
        The saved plan; only as it is written can changes be written back.
    question : str
        Name of the question.
    chart : str
        Key of one of the answer's charts, the first without it.
    us : bool, optional
        US units instead of metric ones; the plan's own choice without it.
    """

    def __init__(self, plan: Plan | PlanFile, question: str = "stay", chart: str = "", us: bool | None = None) -> None:
        self._plan, self._asked = plan, (question, chart, us)
        saved = plan.plan if isinstance(plan, PlanFile) else plan
        self._saved = saved
        self._made: dict[str, Panel] = {}
        self.chooser = widgets.Dropdown(
            options=(AS_WRITTEN, *saved.situations),
            value=AS_WRITTEN,
            description="situation",
            disabled=not saved.situations,
        )
        self._place = widgets.VBox([self.panel.widget])
        self.chooser.observe(lambda _: self._show(), "value")
        self.widget = widgets.VBox([self.chooser, self._place])

    @property
    def panel(self) -> Panel:
        """The panel of the situation that is chosen; made when it is first chosen."""
        name = self.chooser.value
        if name not in self._made:
            question, chart, us = self._asked
            plan = self._plan if name == AS_WRITTEN else self._saved.in_situation(name)
            self._made[name] = Panel(plan, question, chart, us=us)
        return self._made[name]

    def _show(self) -> None:
        self._place.children = (self.panel.widget,)

    def _repr_mimebundle_(self, **kwargs: Any) -> dict[str, Any]:
        """The live panel, and for a page without a kernel a sentence."""
        bundle = self.widget._repr_mimebundle_(**kwargs)
        shown = bundle[0] if isinstance(bundle, tuple) else bundle
        return {**shown, "text/plain": "Run this notebook to choose a situation."}
