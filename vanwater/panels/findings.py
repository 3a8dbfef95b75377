"""The findings of an answer: worst first, all that fails in sight, each with its sum behind "why", the rest folded."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import ipywidgets as widgets

from vanwater.answers.core.finding import Finding
from vanwater.answers.core.question import Answer
from vanwater.answers.questions import Answers
from vanwater.panels import markup
from vanwater.panels.collapsible import Collapsible

__all__ = ["IN_SIGHT", "Findings"]

IN_SIGHT = 3
"""Findings in sight where fewer fail or are a danger."""


class _Slot:
    """One finding in sight; what is unfolded stays so while its finding moves to another place."""

    def __init__(self, turned: Callable[[str, bool], None]) -> None:
        self.text, self.sum = widgets.HTML(), widgets.HTML()
        self.why = widgets.ToggleButton(description="why", tooltip="unfold the sum", layout={"visibility": "hidden"})
        self.key, self._quiet = "", False
        self.why.observe(lambda change: None if self._quiet else turned(self.key, change["new"]), "value")
        line = widgets.HBox([self.text, self.why])
        line.add_class("vw-slot")
        self.widget = widgets.VBox([line, self.sum], layout={"display": "none"})

    def show(self, finding: Finding | None, answer: Answer | Answers | None, open_keys: set[str], us: bool) -> None:
        self.key = finding.key if finding is not None else ""
        if finding is not None:
            self.widget.layout.display = ""  # and stays: what is below must not jump up again
        number = markup.number_behind(finding) if finding is not None and answer is not None else ""
        unfolded = bool(number) and self.key in open_keys
        self.text.value = markup.finding_html(finding, us) if finding is not None else ""
        self.why.layout.visibility = "visible" if number else "hidden"
        self._quiet = True
        self.why.value = unfolded
        self._quiet = False
        self.sum.value = markup.sum_lines(answer.numbers[number], us) if unfolded and answer is not None else ""


class Findings:
    """The findings of the answer that is shown.

    Parameters
    ----------
    us : bool
        US units instead of metric ones.
    """

    def __init__(self, us: bool = False) -> None:
        self.us = us
        self.answer: Answer | Answers | None = None
        self._open: set[str] = set()
        self.slots: list[_Slot] = []
        self.rest = Collapsible("more findings", self._others, titled=False)
        self.widget: Any = widgets.VBox()
        self._widen(IN_SIGHT)

    def show(self, answer: Answer | Answers) -> None:
        """Show the findings of an answer."""
        self.answer = answer
        self._fill()

    def clear(self) -> None:
        """Show nothing."""
        self.answer = None
        self._fill()

    def _fill(self) -> None:
        findings = self._told
        self._widen(self._seen)
        for place, slot in enumerate(self.slots):
            shown = findings[place] if place < min(len(findings), self._seen) else None
            slot.show(shown, self.answer, self._open, self.us)
        self.rest.button.layout.display = "" if len(findings) > self._seen else "none"
        self.rest.refresh()

    @property
    def _told(self) -> tuple[Finding, ...]:
        return self.answer.findings if self.answer is not None else ()

    @property
    def _seen(self) -> int:
        """How many are in sight: all down to the last urgent one."""
        return max([IN_SIGHT, *(place + 1 for place, finding in enumerate(self._told) if finding.urgent)])

    def _widen(self, least: int) -> None:
        """Have at least so many slots."""
        if len(self.slots) < least:
            self.slots += [_Slot(self._turned) for _ in range(least - len(self.slots))]
            self.widget.children = (*(slot.widget for slot in self.slots), self.rest.button, self.rest.body)

    def _turned(self, key: str, unfolded: bool) -> None:
        (self._open.add if unfolded else self._open.discard)(key)
        self._fill()

    def _others(self) -> str:
        return "".join(markup.finding_html(finding, self.us) for finding in self._told[self._seen :])
