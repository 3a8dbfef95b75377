"""The fold that hands the van on: three papers and the plan beside its file, and a line for an e-mail."""

from __future__ import annotations

import html

import ipywidgets as widgets

from vanwater.answers.core.finding import Verdict
from vanwater.answers.core.statement import plain
from vanwater.answers.questions import QUESTIONS, answers_to
from vanwater.document.output_file import NotWrittenError
from vanwater.panels.collapsible import Collapsible
from vanwater.panels.followed import Followed
from vanwater.panels.guard import alert, guarded
from vanwater.panels.write_back import folder_of, is_example

__all__ = ["HandOn", "mail_line"]

_WHAT = (
    "Three pages for any browser go {where}: for the customer, for the workshop, and the file with every sum. Where "
    "the controls stand elsewhere than the plan's file, a copy of the plan goes with them. Earlier ones are written "
    "anew; nothing else is written over."
)


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
        self.write = widgets.Button(
            description="write papers and plan", tooltip="for the customer, the workshop and the file", disabled=True
        )
        self.write.on_click(guarded(lambda _: self._write(), self._refused))
        self.collapsible = Collapsible("hand it on", self._shown, [widgets.HBox([self.write])])
        self.collapsible.body.add_class("vw-files")

    def _shown(self) -> str:
        told, self._told = self._told, ""
        bench, file = self.bench, self.bench.file
        self.write.disabled = file is None or bench.refused is not None
        if bench.refused is not None:
            return f"{told}<p>What is not possible is not handed on.</p>"
        if file is None:
            said = "This plan was not read from a file, so there is no place beside it."
        else:
            name = plain(file.path.name, "terminal")
            said = _WHAT.format(where="beside this notebook" if is_example(file) else f"beside {name}")
            if bench.state.situation:
                said += " They are of the plan as it is written; its situations stand side by side in them."
        line = html.escape(mail_line(bench))
        return (
            f"{told}<p>{html.escape(said)}</p><label class='vw-mail'>A line for an e-mail, to copy:"
            f"<textarea readonly rows=4>{line}</textarea></label>"
        )

    def _write(self) -> None:
        from vanwater.document.papers import hand_on  # it brings the templates along

        bench = self.bench
        if bench.file is None:
            return
        self.collapsible.text.value = "<p>The papers are being written ...</p>"
        plan = bench.handed()
        folder = folder_of(bench.file).absolute()
        try:
            written = hand_on(answers_to(plan.plan), plan, folder, us=bench.us)
        except NotWrittenError as error:
            what, _, do = str(error).partition("\n")
            self._refused(alert(((what, do),)))
            return
        except OSError as error:
            self._refused(
                alert(((f"{error.filename or folder} cannot be written: {error.strerror}.", "Nothing was written."),))
            )
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
