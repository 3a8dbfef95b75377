"""The fold that hands the van on: papers, lists, drawings and the plan beside its file, and a line for an e-mail."""

from __future__ import annotations

import html
from pathlib import Path
from typing import Any, TypeAlias

import ipywidgets as widgets

from vanwater.answers.core.finding import Verdict
from vanwater.answers.core.statement import plain
from vanwater.answers.questions import QUESTIONS
from vanwater.document.output_file import PAPERS, NotWrittenError
from vanwater.document.writings import WRITINGS
from vanwater.panels.collapsible import Collapsible
from vanwater.panels.followed import Followed
from vanwater.panels.guard import alert, guarded
from vanwater.panels.handing import ENDINGS, hand_on
from vanwater.panels.keeping import SAVED_LETTER
from vanwater.panels.write_back import is_example
from vanwater.plan.file import PlanFile

__all__ = ["HandOn", "mail_line"]

_WHAT = (
    "What is chosen goes {where}, of the plan as the controls stand{there}. Where no file of the plan lies there that "
    "says the same, a copy of the plan goes with it. Earlier ones are written anew; nothing else is written over."
)
_FORMS = dict(zip(("web page", "Markdown", "PDF"), ENDINGS, strict=True))
_PICK = {"layout": {"width": "400px", "max_width": "100%"}}

Choice: TypeAlias = tuple[tuple[str, ...], str]
"""Keys of what is written, and from what a change order begins."""


class HandOn:
    """What a panel offers to hand on; nothing is written before the button is pressed.

    Parameters
    ----------
    bench : Followed
        Whose plan it is.
    """

    def __init__(self, bench: Followed) -> None:
        self.bench = bench
        self._told = ""
        self.what = widgets.Dropdown(description="what", tooltip="what is written", options=self._offered(), **_PICK)
        self.form = widgets.Dropdown(description="as", tooltip="form of papers", options=_FORMS, **_PICK)
        self.folder = widgets.Text(
            description="into", placeholder="another folder", tooltip="where to", continuous_update=False, **_PICK
        )
        self.write = widgets.Button(description="write", tooltip="write what is chosen", disabled=True)
        self.what.observe(lambda _: self._formed(), "value")
        self.write.on_click(guarded(lambda _: self._write(), self._refused))
        rows: list[Any] = [widgets.HBox([each]) for each in (self.what, self.form)]
        rows.append(widgets.HBox([self.folder, self.write]))
        self.collapsible = Collapsible("hand it on", self._shown, rows)
        self.collapsible.body.add_class("vw-files")
        self.folder.observe(lambda _: self.collapsible.refresh(), "value")

    def _offered(self) -> dict[str, Choice]:
        """What can be written of the bench as it stands, in words."""
        bench = self.bench
        single = {writing.about: ((key,), "") for key, writing in WRITINGS.items() if key != "change"}
        since = {SAVED_LETTER: "the saved plan"} if bench.values else {}
        since |= {kept.letter: kept.head for kept in bench.kept if kept.letter != bench.kept_as}
        return {
            "three papers: customer, workshop, every sum": (PAPERS, ""),
            **single,
            **{f"the change order since {name}": (("change",), letter) for letter, name in since.items()},
        }

    def _formed(self) -> None:
        """A table and a drawing have one form."""
        keys, _ = self.what.value
        self.form.disabled = all(len(WRITINGS[key].forms) == 1 for key in keys)

    def _shown(self) -> str:
        told, self._told = self._told, ""
        bench, file, chosen, offered = self.bench, self.bench.file, self.what.value, self._offered()
        if dict(self.what.options) != offered:
            self.what.options = offered
            self.what.value = chosen if chosen in offered.values() else (PAPERS, "")
        self.write.disabled = file is None or bench.refused is not None
        if bench.refused is not None:
            return f"{told}<p>What is not possible is not handed on.</p>"
        if file is None:
            said = "This plan was not read from a file, so there is no place beside it."
        else:
            situation = plain(bench.state.situation, "terminal")
            said = _WHAT.format(where=self._where(file), there=f", in the situation {situation}" if situation else "")
        line = html.escape(mail_line(bench))
        return (
            f"{told}<p>{html.escape(said)}</p><label class='vw-mail'>A line for an e-mail, to copy:"
            f"<textarea readonly rows=4>{line}</textarea></label>"
        )

    def _where(self, file: PlanFile) -> str:
        if self._typed:
            return f"into {plain(self._typed.name or str(self._typed), 'terminal')}"
        return "beside this notebook" if is_example(file) else f"beside {plain(file.path.name, 'terminal')}"

    @property
    def _typed(self) -> Path | None:
        typed = self.folder.value.strip()
        return Path(typed) if typed else None

    def _write(self) -> None:
        self.collapsible.text.value = "<p>It is being written ...</p>"
        keys, since = self.what.value
        try:
            written = hand_on(self.bench, keys, form=self.form.value, since=since, folder=self._typed)
        except NotWrittenError as error:
            what, _, do = str(error).partition("\n")
            self._refused(alert(((what, do),)))
            return
        names = ", ".join(place.name for place in written)
        copied = "" if any(place.suffix == ".toml" for place in written) else " The plan is its file as it lies there."
        self._told = f"<p>{html.escape(plain(f'Written: {names}.{copied}', 'terminal'))}</p>"
        self.collapsible.refresh()

    def _refused(self, message: str) -> None:
        self._told = message
        self.collapsible.refresh()


def mail_line(bench: Followed) -> str:
    """Tell in plain text how the van on a bench stands.

    Parameters
    ----------
    bench : Followed
        The bench.

    Returns
    -------
    str
        The van, what ends the stay, the numbers that stand for the other questions, what fails, what was changed.

    Raises
    ------
    PlanError
        When the plan stands on something impossible.
    """
    first, *others = (bench.ask(key) for key in QUESTIONS)
    there = f", {bench.state.situation}" if bench.state.situation else ""
    glances = [tuple(answer.question.glance(answer)) for answer in others]
    numbers = [f"{numbers[0].name} {numbers[0].shown.text(bench.us)}" for numbers in glances if numbers]
    fails = [finding for answer in (first, *others) for finding in answer.findings if finding.verdict is Verdict.FAILS]
    told = [f"{bench.saved.van.name}{there}: {first.verdict.text(bench.us)}"]
    if numbers:
        told.append(f"{_begun('; '.join(numbers))}.")
    if fails:
        told.append(
            f"{len(fails)} {'thing fails' if len(fails) == 1 else 'things fail'}, as the file of this van tells."
        )
    if bench.changes:
        told.append(f"Changed against the saved plan: {'; '.join(bench.changes)}.")
    return plain(" ".join(told), "terminal")


def _begun(words: str) -> str:
    return words[:1].upper() + words[1:]
