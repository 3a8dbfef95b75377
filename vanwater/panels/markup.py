"""Answers as pieces of HTML: verdict, findings, sums, tables, assumptions, sources, cautions. No sum is done here."""

from __future__ import annotations

import html
from collections.abc import Iterable, Iterator

from vanwater.answers.core.answer import Answer, Caution, Cell, Column, Table
from vanwater.answers.core.finding import Finding
from vanwater.answers.core.statement import Amount, Range, Say, harmless, plain
from vanwater.answers.core.working import Step
from vanwater.quantities import NO_BREAK

__all__ = [
    "agreement",
    "assumptions",
    "cautions",
    "finding",
    "number_behind",
    "said",
    "sources",
    "sum_lines",
    "table",
    "table_text",
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


def finding(found: Finding, us: bool = False) -> str:
    """Mark and word, the sentence, what to change and what that gains."""
    advice = f'<div class="vw-advice">{said(found.advice, us)}</div>' if found.advice is not None else ""
    mark = f'<span class="vw-mark">{found.verdict.mark}{NO_BREAK}{found.verdict.word}</span>'
    kind = found.verdict.name.lower().replace("_", "-")
    return f'<div class="vw-finding vw-{kind}">{mark} {said(found.statement, us)}{advice}</div>'


def number_behind(found: Finding, answer: Answer) -> str:
    """The key of the number that a finding judges, so that it can be unfolded.

    Parameters
    ----------
    found : Finding
        The finding.
    answer : Answer
        Its answer.

    Returns
    -------
    str
        The number of the finding's own key, else the one that has its value; empty where there is none.
    """
    if found.key in answer.numbers:
        return found.key
    if found.value is None:
        return ""
    wanted = _likely(found.value)
    for key, step in answer.numbers.items():
        if isinstance(step.result, Say) or step.result.quantity.si != found.value.quantity.si:
            continue
        if _likely(step.result) == wanted:
            return key
    return ""


def sum_lines(step: Step, us: bool = False, depth: int | None = None) -> str:
    """A number with what it was made of, as an indented tree."""
    lines = "\n".join(html.escape(line) for line in step.lines(us, depth=depth))
    return f'<pre class="vw-sum">{lines}</pre>'


def table(shown: Table, us: bool = False) -> str:
    """A table: numbers right-aligned, one unit a column where the column has one."""
    head = "".join(
        f'<th scope="col"{_side(column.quantity is not None)}>{html.escape(_heading(column, us))}</th>'
        for column in shown.columns
    )
    body = "".join(
        f"<tr>{''.join(_cell(cell, column, us) for cell, column in zip(row, shown.columns, strict=True))}</tr>"
        for row in shown.rows
    )
    note = f'<p class="vw-note">{said(shown.note, us)}</p>' if shown.note is not None else ""
    caption = f"<caption>{said(shown.caption, us)}</caption>"
    return f'<table class="vw-table">{caption}<thead><tr>{head}</tr></thead><tbody>{body}</tbody></table>{note}'


def table_text(shown: Table, us: bool = False) -> str:
    """The same table in plain text, one row a line."""
    rows = [[_heading(column, us) for column in shown.columns]]
    rows += [
        [_in_cell(cell, column, us) for cell, column in zip(row, shown.columns, strict=True)] for row in shown.rows
    ]
    widths = [max(len(row[place]) for row in rows) for place in range(len(shown.columns))]
    return "\n".join(
        "  ".join(cell.ljust(wide) for cell, wide in zip(row, widths, strict=True)).rstrip() for row in rows
    )


def assumptions(answer: Answer, us: bool = False) -> str:
    """What was taken to be so, how unsure it is, and what to measure to know."""
    rows = "".join(
        f"<li>{said(one.statement, us)} {_measure(one.measure)}{_source(one.source)}</li>" for one in answer.assumptions
    )
    return f"<ul>{rows}</ul>" if rows else "<p>Nothing beyond what the plan says.</p>"


def sources(answer: Answer) -> str:
    """Every source that a number, limit or assumption names, once."""
    named = dict.fromkeys(source for source in _sources(answer) if source)
    rows = "".join(f"<li>{html.escape(source)}</li>" for source in named)
    return f"<ul>{rows}</ul>" if rows else "<p>No source is named.</p>"


def cautions(some: Iterable[Caution]) -> str:
    """Cautions as a list; empty for none."""
    rows = "".join(f"<li>{html.escape(one.text)}</li>" for one in some)
    return f'<ul class="vw-cautions">{rows}</ul>' if rows else ""


def _sources(answer: Answer) -> Iterator[str]:
    for step in answer.numbers.values():
        yield from (inner.source for _, inner in step.walk())
    yield from (one.source for one in answer.findings)
    yield from (one.source for one in answer.assumptions)


def _measure(text: str) -> str:
    return f"<i>To know: {html.escape(text)}</i> " if text else ""


def _source(text: str) -> str:
    return f'<span class="vw-source">({html.escape(text)})</span>' if text else ""


def _heading(column: Column, us: bool) -> str:
    unit = column.quantity.unit(us) if column.quantity is not None else ""
    return f"{column.heading} ({unit})" if unit else column.heading


def _in_cell(cell: Cell, column: Column, us: bool) -> str:
    """What a cell says, without the unit where the heading says it."""
    if not isinstance(cell, Amount | Range):
        return "" if cell is None else cell.text(us) if isinstance(cell, Say) else plain(cell, "terminal")
    if column.quantity is None or cell.quantity.unit(us) != column.quantity.unit(us):
        return cell.text(us)
    head, ends = cell.parts(us) if isinstance(cell, Range) else (cell.text(us), "")
    return " ".join(part for part in (head.partition(NO_BREAK)[0], ends) if part)


def _cell(cell: Cell, column: Column, us: bool) -> str:
    number = isinstance(cell, Amount | Range)
    return f"<td{_side(number)}>{html.escape(_in_cell(cell, column, us))}</td>"


def _side(right: bool) -> str:
    return ' style="text-align:right"' if right else ' style="text-align:left"'


def _likely(value: Amount | Range) -> float:
    return value.likely if isinstance(value, Range) else value.value
