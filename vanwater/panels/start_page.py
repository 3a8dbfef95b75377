"""The start page: the plan in hand, its verdict, what fails, and a way into each question's notebook."""

from __future__ import annotations

import html
import os
import re
from collections import Counter
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from urllib.parse import quote

from vanwater import __version__
from vanwater.answers.core.answer import gravest_first
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import harmless
from vanwater.answers.questions import Answers, answers_to
from vanwater.figures.drawing import DARK_STYLE, drawing
from vanwater.panels import markup
from vanwater.panels.initial_plan import PLAN_VARIABLE
from vanwater.panels.notebook_format import kernel_here, nbformat
from vanwater.panels.notebook_record import untouched_file
from vanwater.panels.pieces import Shown
from vanwater.panels.plan_banner import file_line, path_in_hand
from vanwater.plan.file import read
from vanwater.plan.problems import PlanError, Problem
from vanwater.plan.tables import resource
from vanwater.quantities import NO_BREAK

__all__ = ["ASKED", "start_notebook", "start_page"]

ASKED = {
    "days_off_grid": "stay",
    "pump_starts_and_accumulator": "pump_starts",
    "hot_water": "hot_water",
    "frost": "frost",
    "pump_hoses_and_fittings": "outlets",
    "power": "power",
}
"""The question that a notebook answers, by its name without number; the others stand under their heading alone."""

MOST = 50
"""Problems that are told; a file with more is not mended line by line."""

_SOURCE = "from vanwater.panels.start_page import start_page\n\nstart_page()"
_WIDTH, _HEIGHT = 340.0, 230.0  # points: letters keep their size in half a page
_FEWEST = 3  # findings that are told although none fails
_TEXT = harmless("terminal")
_STYLE = f"""<style>
.vw-start{{max-width:1080px;line-height:1.4;font-size:14px;overflow-wrap:anywhere}}
.vw-start .vw-title{{font-size:15px;font-weight:600;margin:0}}
.vw-start .vw-file{{font-size:13px;color:var(--jp-ui-font-color1,#444);margin:0 0 10px}}
.vw-start .vw-big{{font-size:26px;line-height:1.25;margin:0 0 12px}}
.vw-start{{container-type:inline-size}}
.vw-start .vw-rows{{display:flow-root}}
@container (min-width:700px){{
 .vw-start .vw-left{{float:left;clear:left;width:calc(50% - 18px)}}
 .vw-start .vw-right{{float:right;clear:right;width:calc(50% - 18px)}}
}}
.vw-start svg{{display:block;width:100%;max-width:560px;height:auto;margin:0 0 14px}}
.vw-start .vw-head{{font-size:15px;font-weight:600;margin:0 0 4px}}
.vw-start .vw-plain+.vw-head,.vw-start .vw-left .vw-head{{margin-top:14px}}
.vw-start .vw-left~.vw-left~.vw-right .vw-head{{margin-top:14px}}
.vw-start ul.vw-plain{{list-style:none;margin:0;padding:0}}
.vw-start ul.vw-plain li{{margin:0 0 7px}}
.vw-start .vw-said{{display:block;font-size:13px}}
.vw-start .vw-finding{{margin:0 0 7px}}
.vw-start .vw-advice,.vw-start .vw-soft{{font-size:13px;color:var(--jp-ui-font-color1,#444)}}
.vw-start .vw-mark{{font-weight:600;white-space:nowrap}}
.vw-start .vw-fails .vw-mark{{color:var(--vw-bad,#b3261e)}}
.vw-start .vw-watch .vw-mark{{color:var(--vw-warn,#8a5a00)}}
.jp-CodeCell:has(.vw-start)>.jp-Cell-inputWrapper{{display:none}}
[data-jp-theme-light="false"] .vw-start{{--vw-bad:#ff8a80;--vw-warn:#ffcc66;{DARK_STYLE}}}
</style>"""


@dataclass(frozen=True, slots=True, kw_only=True)
class _Way:
    """A way into a notebook.

    Parameters
    ----------
    name : str
        Its file.
    heading, about : str
        Its first heading, and the first sentence below it.
    own : bool
        Whether the builder changed it.
    """

    name: str
    heading: str
    about: str
    own: bool

    @property
    def asked(self) -> str:
        """The question that it answers; empty where it answers none."""
        return ASKED.get(re.sub(r"^\d+_", "", Path(self.name).stem), "")


def start_notebook() -> Any:
    """The start page as a notebook that was not run yet."""
    cell = nbformat().v4.new_code_cell(_SOURCE, id="start", metadata={"jupyter": {"source_hidden": True}})
    return nbformat().v4.new_notebook(cells=[cell], metadata=nbformat().from_dict(kernel_here()))


def start_page(folder: Path = Path(), environment: Mapping[str, str] = os.environ) -> Shown:
    """What a builder sees first: the verdict on the plan in hand, what fails, and where to go on.

    Parameters
    ----------
    folder : Path
        Where the notebooks lie.
    environment : mapping
        Where the plan's file may be named.

    Returns
    -------
    Shown
        The page; for a plan that cannot be used its problems, their lines and what to do.
    """
    path, example = path_in_hand(environment), not environment.get(PLAN_VARIABLE, "")
    try:
        answers = answers_to(read(path).plan)
    except PlanError as error:
        return _refused(path, error)
    return _page(answers, tuple(_ways(folder)), file_line(path, example), example)


def _page(answers: Answers, ways: tuple[_Way, ...], file: str, example: bool) -> Shown:
    plan, us = answers.plan, answers.plan.us
    title = f"{'Example: ' * example}{_TEXT(plan.van.name)}, revision {_TEXT(plan.van.revision)}"
    chart = next(iter(answers.values())).chart()
    picture = drawing(chart, us, _WIDTH, None if chart.bars else _HEIGHT) if chart is not None else ""
    told = _at_a_glance(answers)
    cautions = [
        caution
        for caution in gravest_first(caution for answer in answers.values() for caution in answer.cautions)
        if caution.grave
    ]
    look = [
        _head("What to look at first") if told else "",
        "".join(markup.finding_html(finding, us) for finding in told),
        f'<p class="vw-soft">{html.escape(_rest(answers, told))}</p>',
    ]
    ask = _head("Open a question") + _list(_way(way, answers) for way in ways)
    more = [
        _head("Further answers") + _list(_elsewhere(answers, ways)),
        _head("Take care") + _list(markup.said(caution.brief, us) for caution in cautions) if cautions else "",
    ]
    columns = (("left", picture), ("right", ask), ("left", "".join(look)), ("right", "".join(more)))
    rows = "".join(f'<div class="vw-{side}">{held}</div>' for side, held in columns)
    parts = [
        _STYLE,
        f'<p class="vw-title">{html.escape(title)}</p><p class="vw-file">{html.escape(file)}</p>',
        f'<p class="vw-big">{markup.said(answers.headline, us, strong=True)}</p>',
        markup.missing_html(answers.missing, us),
        f'<div class="vw-rows">{rows}</div>',
        f'<p class="vw-soft">{html.escape(_after(file, example))}</p>',
    ]
    lines = [title, file, answers.headline.text(us)]
    lines += [f"{finding.verdict} {finding.statement.text(us)}" for finding in told]
    lines += [f"{way.heading} ({way.name}) {_verdict(way, answers)}".rstrip() for way in ways]
    return Shown(f'<div class="vw-start">{"".join(parts)}</div>', "\n".join(lines))


def _at_a_glance(answers: Answers) -> list[Finding]:
    """All that fails and every danger, worst first; some of what is to be watched where there is none."""
    urgent = [finding for finding in answers.findings if finding.urgent]
    return urgent or [finding for finding in answers.findings if finding.verdict is Verdict.WATCH][:_FEWEST]


def _rest(answers: Answers, told: list[Finding]) -> str:
    left = Counter(finding.verdict for finding in answers.findings if finding not in told)
    counts = [f"{left[verdict]} {verdict.word}" for verdict in reversed(Verdict) if left[verdict]]
    return f"{'Further findings' if told else 'Findings'}, in the notebooks: {', '.join(counts)}." if counts else ""


def _after(file: str, example: bool) -> str:
    if example:
        return (
            "This is the example that comes with vanwater. vanwater new van.toml writes a plan to begin with; "
            "vanwater lab van.toml opens this page for it."
        )
    return (
        f"After a change of {file.split(', saved ')[0]} choose Run, then Run All Cells, here and in a notebook; "
        "or end vanwater lab with Ctrl+C where it runs and start it again: then all of them are worked out anew."
    )


def _way(way: _Way, answers: Answers) -> str:
    verdict = html.escape(_verdict(way, answers)) or html.escape(way.about)
    own = '<span class="vw-said">Changed by you, and left as it is: run it to see this plan.</span>' if way.own else ""
    link = f'<a href="{quote(way.name)}">{html.escape(way.heading)}</a>'
    return f'{link}<span class="vw-said">{verdict}{_marks(answers.get(way.asked))}</span>{own}'


def _verdict(way: _Way, answers: Answers) -> str:
    """What the van's answer is; without one why there is none."""
    answer = answers.get(way.asked)
    if answer is not None:
        return answer.verdict.text(answers.plan.us)
    return "The plan says nothing about it." if way.asked else ""


def _marks(answer: Answer | None) -> str:
    if answer is None:
        return ""
    count = sum(finding.verdict is Verdict.FAILS for finding in answer.findings)
    mark = f"{Verdict.FAILS.mark}{NO_BREAK}{count}{NO_BREAK}{'fails' if count == 1 else 'fail'}"
    return f' <span class="vw-fails"><span class="vw-mark">{mark}</span></span>' if count else ""


def _elsewhere(answers: Answers, ways: tuple[_Way, ...]) -> Iterator[str]:
    """The verdicts of the questions that no notebook is called after."""
    asked = {way.asked for way in ways}
    for answer in answers.values():
        if answer.key not in asked:
            verdict = markup.said(answer.verdict, answers.plan.us)
            yield f"<b>{html.escape(answer.label)}</b> {verdict}{_marks(answer)}"


def _ways(folder: Path) -> Iterator[_Way]:
    """The notebooks that ship with the program and lie in a folder."""
    for shipped in sorted(resource("notebooks").glob("*.ipynb")):
        lies = folder / shipped.name
        if lies.exists():
            text = nbformat().read(shipped, as_version=4).cells[0].source
            heading, _, body = text.partition("\n")
            plain_text = re.sub(r"(?m)^\*.*\*$", "", body)  # without what is only true until the notebook is run
            about = re.split(r"(?<=[.?])\s", " ".join(plain_text.split()))[0]
            own = not untouched_file(lies)
            yield _Way(name=lies.name, heading=heading.lstrip("# "), about=about, own=own)


def _refused(path: Path, error: PlanError) -> Shown:
    """What is wrong with a plan, where, and what to do."""
    name, count = _TEXT(path.name), len(error.problems)
    headline = f"{name} cannot be used yet: {count} {'problem' if count == 1 else 'problems'}."
    items = "".join(f"<li>{_problem(problem)}</li>" for problem in error.problems[:MOST])
    todo = [f"Open {_TEXT(str(path))} in a text editor, mend {'it' if count == 1 else 'them'} and save the file."]
    if any("is not known here" in problem.message for problem in error.problems):
        todo.append(
            f"A name that is not known here may be a slip, or of a newer vanwater than this one, {__version__}: "
            "then open the plan with the version that it was written for."
        )
    todo.append("Then end vanwater lab with Ctrl+C where it runs and start it again. Nothing in the file was changed.")
    body = (
        f'<p class="vw-file">{html.escape(file_line(path))}</p><p class="vw-big">{html.escape(headline)}</p>'
        f"<ul>{items}</ul>{_head('What to do')}<ol>{''.join(f'<li>{html.escape(line)}</li>' for line in todo)}</ol>"
    )
    lines = [headline, *(str(problem) for problem in error.problems[:MOST]), *todo]
    return Shown(f'{_STYLE}<div class="vw-start" role="alert">{body}</div>', "\n".join(lines))


def _problem(problem: Problem) -> str:
    place = f"Line {problem.line}" if problem.line else ""
    where = ", ".join(part for part in (place, problem.address) if part)
    expected = f"Expected {problem.expected}." if problem.expected else ""
    told = " ".join(part for part in (problem.message, expected, problem.slip) if part)
    return f"<b>{html.escape(where)}</b>{': ' * bool(where)}{html.escape(told)}"


def _head(text: str) -> str:
    return f'<p class="vw-head" role="heading" aria-level="2">{text}</p>'


def _list(items: Iterator[str]) -> str:
    return f'<ul class="vw-plain">{"".join(f"<li>{item}</li>" for item in items)}</ul>'
