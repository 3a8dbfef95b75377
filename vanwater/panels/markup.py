"""Answers as pieces of HTML: verdict, findings, sums, tables, assumptions, sources, cautions. No sum is done here."""

from __future__ import annotations

import html
from collections.abc import Iterable, Iterator, Sequence

from vanwater.answers.core.answer import Caution
from vanwater.answers.core.finding import Finding
from vanwater.answers.core.gathered import numbers_in
from vanwater.answers.core.key import key_text
from vanwater.answers.core.number import Number
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Amount, Range, Say, harmless
from vanwater.answers.core.unfold import Seen
from vanwater.answers.missing import Missing, not_whole
from vanwater.quantities import NO_BREAK, retold

__all__ = [
    "agreement",
    "assumptions_html",
    "cautions_html",
    "finding_html",
    "missing_html",
    "number_behind",
    "said",
    "sources",
    "sum_lines",
    "sums_html",
]

_ESCAPE = harmless("html")


def agreement(agrees: bool) -> str:
    """Whether a number agrees with the one beside it: a mark and a word that stay together."""
    return f"✓{NO_BREAK}agrees" if agrees else f"✕{NO_BREAK}differs"


def said(words: Say | Amount | Range | str | None, us: bool = False, strong: bool = False) -> str:
    """A sentence, number or text of a plan as harmless HTML, its numbers bold if wanted."""
    if words is None:
        return ""
    if isinstance(words, Say):
        return words.text(us, _ESCAPE, "<b>{}</b>".format if strong else str)
    return _ESCAPE(words if isinstance(words, str) else words.text(us))


def finding_html(finding: Finding, us: bool = False) -> str:
    """Mark and word, the sentence, what to change and what that gains."""
    advice = f'<div class="vw-advice">{said(finding.advice, us)}</div>' if finding.advice is not None else ""
    mark = f'<span class="vw-mark">{finding.verdict.mark}{NO_BREAK}{finding.verdict.word}</span>'
    kind = finding.verdict.name.lower().replace("_", "-")
    return f'<div class="vw-finding vw-{kind}">{mark} {said(finding.statement, us)}{advice}</div>'


def missing_html(missing: Sequence[Missing], us: bool = False) -> str:
    """What keeps a plan from being whole, and what to write; empty for a plan that is whole."""
    if not missing:
        return ""
    rows = "".join(f"<li>{said(lack.statement, us)} {said(lack.change, us)}</li>" for lack in missing)
    return f'<div class="vw-missing"><b>{said(not_whole(len(missing)), us)}</b><ul>{rows}</ul></div>'


def number_behind(finding: Finding) -> str:
    """The key of the number that a finding judges or speaks of first; empty where there is none."""
    spoken = numbers_in(finding.value, finding.statement)
    return next((key_text(number.key) for number in spoken if number.key), "")


def sum_lines(step: Number, us: bool = False) -> str:
    """A number with what it was made of, as an indented tree."""
    return _tree(step.lines(us))


def sums_html(steps: Iterable[Number], us: bool = False) -> str:
    """Numbers, each unfolding to its sum; what a sum above has told already is only named, with where it stands."""
    seen: Seen = {}
    rows = []
    for place, step in enumerate(steps, 1):
        head, *lines = step.lines(us, seen=seen, under=str(place))
        rows.append(
            f"<details><summary>{place} <b>{html.escape(step.name)}</b> = {said(step.result, us)}</summary>"
            f"{_tree(lines or [head])}</details>"
        )
    return "".join(rows)


def _tree(lines: Iterable[str]) -> str:
    text = "\n".join(html.escape(line, quote=False) for line in lines)
    return f'<pre class="vw-sum">{text}</pre>'


def assumptions_html(answer: Answer, us: bool = False) -> str:
    """What was taken to be so, how unsure it is, and what to measure to know."""
    rows = "".join(
        f"<li>{said(assumption.statement, us)} {_measure(retold(assumption.measure, us))}"
        f"{_source(retold(assumption.source, us))}</li>"
        for assumption in answer.assumptions
    )
    return f"<ul>{rows}</ul>" if rows else "<p>Nothing beyond what the plan says.</p>"


def sources(answer: Answer, us: bool = False) -> str:
    """Every source that a number, limit or assumption names, once."""
    named = dict.fromkeys(source for source in _sources(answer) if source)
    rows = "".join(f"<li>{html.escape(retold(source, us))}</li>" for source in named)
    return f"<ul>{rows}</ul>" if rows else "<p>No source is named.</p>"


def cautions_html(cautions: Iterable[Caution], us: bool = False) -> str:
    """Cautions as a list; empty for none."""
    rows = "".join(f"<li>{said(caution.text, us)}</li>" for caution in cautions)
    return f'<ul class="vw-cautions">{rows}</ul>' if rows else ""


def _sources(answer: Answer) -> Iterator[str]:
    for step in answer.numbers.values():
        yield from (inner.source for _, inner in step.walk())
    yield from (finding.source for finding in answer.findings)
    yield from (assumption.source for assumption in answer.assumptions)


def _measure(text: str) -> str:
    return f"<i>To know: {html.escape(text)}</i> " if text else ""


def _source(text: str) -> str:
    return f'<span class="vw-source">({html.escape(text)})</span>' if text else ""


def _likely(value: Amount | Range) -> float:
    return value.likely if isinstance(value, Range) else value.value
