"""The answers for programs: one JSON object, every number in SI, under keys that stay.

``vanwater check --json-schema`` prints its JSON Schema, which is :mod:`vanwater.terminal.json_schema`.

Top level
    ==========  =======================================================================================
    schema      2; it grows by one when a key below changes its meaning or goes away
    vanwater    version of the program
    plan        {"name", "revision", "situation"} of the plan; no text for the plan as it is written
    units       "SI"
    failing     whether any finding fails
    missing     what keeps the plan from being whole: list of {"text", "change", "address", "outlets"}
    numbers     every number once, by the key that ``--why`` unfolds: a number with "name", "meaning",
                "source" and, where it has no range, "unranged": why
    answers     one object for each question, by its key: "stay", "outlets" ...
    situations  by the name of each situation of the plan an object with "failing", "missing", "numbers"
                and "answers" as they are there
    ==========  =======================================================================================

Each answer
    ===========  ======================================================================================
    title        the question in a few words
    verdict      the answer in one sentence, with metric units
    decided      whether the plan says enough for an answer
    numbers      keys of the numbers that it shows
    tables       list of {"key", "caption", "columns", "rows"}; a column is {"heading", "unit",
                 "quantity"}, both null where it holds texts; a row is a list of cells, each a number,
                 a text or null
    findings     list, worst first, of {"key", "verdict", "harm", "text", "value", "limit", "bound",
                 "margin", "change", "gain", "address", "source"}; value, limit and margin are numbers
                 or null, change is a text or null, gain a number, a text or null; verdict is "fine",
                 "agreed", "not decided", "watch" or "fails"; bound is "at most" or "at least"; harm is "life",
                 "injury", "damage", "does not work", "stay ends", "duty", "comfort" or "care"
    assumptions  list of {"key", "text", "measure", "address", "source"}
    cautions     list of {"key", "text", "grave", "harm", "source"}
    ===========  ======================================================================================

A number
    ===========  ======================================================================================
    key          which one it is; null for what is none of its own, such as a margin
    value        in SI; null when it is not finite or no single number
    low, high    ends of its range in SI; null where it has none
    unit         SI unit, "1" for a number without one; null for words
    quantity     what it is a number of: "volume", "flow" ...; null for words
    state        only beside a null value: "unlimited", "not known" or "words"
    low_state    only where the range is open or not known at that end: "unlimited", "not known"
    high_state   the same for the other end
    text         only beside "words": what stands in its place
    ===========  ======================================================================================

NaN and Infinity never occur. A plan's own texts are kept without control codes.
"""

from __future__ import annotations

import json
import math
from typing import TYPE_CHECKING, Any

from vanwater.answers.core.answer import Assumption, Caution
from vanwater.answers.core.cell import Cell
from vanwater.answers.core.finding import Finding
from vanwater.answers.core.key import key_text
from vanwater.answers.core.number import Number
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Amount, Range, Say, harmless
from vanwater.answers.core.table import Table
from vanwater.answers.missing import Missing
from vanwater.quantities import Quantity

if TYPE_CHECKING:
    from vanwater.answers.questions import Answers

__all__ = ["SCHEMA", "json_form", "json_text"]

SCHEMA = 2

_ESCAPE = harmless("terminal")


def json_form(answers: Answers, version: str) -> dict[str, Any]:
    """The answers as one object of plain values.

    Parameters
    ----------
    answers : Answers
        All answers to a plan.
    version : str
        The program's version.

    Returns
    -------
    dict
        Texts, finite floats, truth values, lists, dicts and None; the keys are those of this module's text.
    """
    van = answers.plan.van
    return {
        "schema": SCHEMA,
        "vanwater": version,
        "plan": {
            "name": _ESCAPE(van.name),
            "revision": _ESCAPE(van.revision),
            "situation": _ESCAPE(answers.plan.situation),
        },
        "units": "SI",
        **_told(answers),
        "situations": {_ESCAPE(name): _told(there) for name, there in answers.situations.items()},
    }


def _told(answers: Answers) -> dict[str, Any]:
    return {
        "failing": answers.failing,
        "missing": [_missing(lack) for lack in answers.missing],
        "numbers": {_ESCAPE(key): _full(number) for key, number in answers.numbers.items()},
        "answers": {answer.key: _answer(answer) for answer in answers.values()},
    }


def json_text(answers: Answers, version: str, encoding: str) -> str:
    """The same as a text that every JSON reader takes.

    Parameters
    ----------
    answers : Answers
        All answers to a plan.
    version : str
        The program's version.
    encoding : str
        What the stream can write; where that is not UTF-8, other letters are written as numbers.

    Returns
    -------
    str
        Ends in a line feed.
    """
    whole = encoding.lower().replace("-", "").replace("_", "") == "utf8"
    return json.dumps(json_form(answers, version), allow_nan=False, ensure_ascii=not whole, indent=2) + "\n"


def _missing(lack: Missing) -> dict[str, Any]:
    return {
        "text": _text(lack.statement),
        "change": _text(lack.change),
        "address": _ESCAPE(lack.address),
        "outlets": [_ESCAPE(outlet) for outlet in lack.outlets],
    }


def _answer(answer: Answer) -> dict[str, Any]:
    return {
        "title": answer.title,
        "verdict": _text(answer.verdict),
        "decided": bool(answer.decided),
        "numbers": [_ESCAPE(key) for key in answer.numbers],
        "tables": [_table(table) for table in answer.tables],
        "findings": [_finding(finding) for finding in answer.findings],
        "assumptions": [_assumption(assumption) for assumption in answer.assumptions],
        "cautions": [_caution(caution) for caution in answer.cautions],
    }


def _full(number: Number) -> dict[str, Any]:
    form = {"name": _ESCAPE(number.name), "meaning": _ESCAPE(number.meaning), "source": _ESCAPE(number.source)}
    why = {"unranged": number.unranged} if number.unranged else {}
    return {**form, **_number(number.result), "key": _key(number), **why}


def _key(number: Number | None) -> str | None:
    return _ESCAPE(key_text(number.key)) if number is not None and number.key else None


def _number(said: Amount | Range | Say) -> dict[str, Any]:
    if isinstance(said, Say):
        words = {"state": "words", "text": _text(said)}
        return {"key": None, "value": None, "low": None, "high": None, "unit": None, "quantity": None, **words}
    own = said.number
    if isinstance(said, Range):
        ends = {"value": said.likely, "low": said.low, "high": said.high}
    else:
        ends = {"value": said.value}
        if own is not None and own.range is not None and said.value == own.likely:
            ends |= dict(zip(("low", "high"), own.range, strict=True))
    form: dict[str, Any] = {"key": _key(own), "value": None, "low": None, "high": None}
    form |= {end: _finite(value) for end, value in ends.items()}
    form |= {"unit": said.quantity.si, "quantity": said.quantity.name}
    states = {"value": "state", "low": "low_state", "high": "high_state"}
    return form | {states[end]: _state(value) for end, value in ends.items() if not math.isfinite(value)}


def _finite(value: float) -> float | None:
    return float(value) if math.isfinite(value) else None


def _state(value: float) -> str:
    return "not known" if math.isnan(value) else "unlimited"


def _table(table: Table) -> dict[str, Any]:
    columns = [{"heading": column.heading, **_kind(column.quantity)} for column in table.columns]
    rows = [[_cell(cell) for cell in row] for row in table.rows]
    return {"key": table.key, "caption": _text(table.caption), "columns": columns, "rows": rows}


def _kind(quantity: Quantity | None) -> dict[str, Any]:
    return {"unit": quantity.si if quantity else None, "quantity": quantity.name if quantity else None}


def _cell(cell: Cell) -> Any:
    if cell is None or isinstance(cell, str):
        return cell if cell is None else _ESCAPE(cell)
    return _text(cell) if isinstance(cell, Say) else _number(cell)


def _finding(finding: Finding) -> dict[str, Any]:
    gain = finding.gain
    return {
        "key": _ESCAPE(finding.key),
        "verdict": finding.verdict.word,
        "harm": finding.harm.word,
        "text": _text(finding.statement),
        "value": _number(finding.value) if finding.value is not None else None,
        "limit": _number(finding.limit) if finding.limit is not None else None,
        "bound": finding.bound,
        "margin": _number(finding.margin) if finding.margin is not None else None,
        "change": _text(finding.change) if finding.change is not None else None,
        "gain": None if gain is None else _text(gain) if isinstance(gain, Say) else _number(gain),
        "address": _ESCAPE(finding.address),
        "source": _ESCAPE(finding.source),
    }


def _assumption(assumption: Assumption) -> dict[str, Any]:
    return {
        "key": _ESCAPE(assumption.key),
        "text": _text(assumption.statement),
        "measure": _ESCAPE(assumption.measure),
        "address": _ESCAPE(assumption.address),
        "source": _ESCAPE(assumption.source),
    }


def _caution(caution: Caution) -> dict[str, Any]:
    return {
        "key": caution.key,
        "text": _spoken(caution.text),
        "grave": caution.grave,
        "harm": caution.harm.word,
        "source": _ESCAPE(caution.source),
    }


def _spoken(said: str | Say) -> str:
    return said if isinstance(said, str) else _text(said)


def _text(said: Say) -> str:
    return said.text(False, _ESCAPE)
