"""The JSON Schema of ``vanwater check --json``, for programs that read it."""

from __future__ import annotations

from typing import Any

from vanwater.answers.core.harm import Harm
from vanwater.terminal.json_form import SCHEMA

__all__ = ["json_schema"]

_TEXT = {"type": "string"}
_FLOAT = {"type": ["number", "null"]}
_MAYBE = {"type": ["string", "null"]}
_STATE = {"enum": ["unlimited", "not known", "words"]}


def _object(required: dict[str, Any], optional: dict[str, Any] | None = None) -> dict[str, Any]:
    properties = {**required, **(optional or {})}
    return {"type": "object", "properties": properties, "required": list(required), "additionalProperties": False}


def _list(items: dict[str, Any]) -> dict[str, Any]:
    return {"type": "array", "items": items}


def _refer(name: str) -> dict[str, Any]:
    return {"$ref": f"#/$defs/{name}"}


_PARTS = {"key": _MAYBE, "value": _FLOAT, "low": _FLOAT, "high": _FLOAT, "unit": _MAYBE, "quantity": _MAYBE}
_STATES = {"state": _STATE, "low_state": _STATE, "high_state": _STATE, "text": _TEXT}
_NAMED = {"name": _TEXT, "meaning": _TEXT, "source": _TEXT}
_OR_NULL = {"anyOf": [_refer("number"), {"type": "null"}]}
_CELL = {"anyOf": [_refer("number"), _MAYBE]}


def json_schema() -> dict[str, Any]:
    """What :func:`vanwater.terminal.json_form.json_form` gives, by JSON Schema 2020-12.

    Returns
    -------
    dict
        Of plain values; no key beside those that it names may stand in the answers.
    """
    column = _object({"heading": _TEXT, "unit": _MAYBE, "quantity": _MAYBE})
    table = _object({"key": _TEXT, "caption": _TEXT, "columns": _list(column), "rows": _list(_list(_CELL))})
    harm = {"enum": [each.word for each in Harm]}
    finding = _object(
        {
            "key": _TEXT,
            "verdict": {"enum": ["fine", "agreed", "not decided", "watch", "fails"]},
            "harm": harm,
            "text": _TEXT,
            "value": _OR_NULL,
            "limit": _OR_NULL,
            "bound": {"enum": ["at most", "at least"]},
            "margin": _OR_NULL,
            "change": _MAYBE,
            "gain": _CELL,
            "address": _TEXT,
            "source": _TEXT,
        }
    )
    assumption = _object({"key": _TEXT, "text": _TEXT, "measure": _TEXT, "address": _TEXT, "source": _TEXT})
    caution = _object({"key": _TEXT, "text": _TEXT, "grave": {"type": "boolean"}, "harm": harm, "source": _TEXT})
    answer = _object(
        {
            "title": _TEXT,
            "verdict": _TEXT,
            "decided": {"type": "boolean"},
            "numbers": _list(_TEXT),
            "tables": _list(table),
            "findings": _list(finding),
            "assumptions": _list(assumption),
            "cautions": _list(caution),
        }
    )
    missing = _object({"text": _TEXT, "change": _TEXT, "address": _TEXT, "outlets": _list(_TEXT)})
    told: dict[str, Any] = {
        "failing": {"type": "boolean"},
        "missing": _list(missing),
        "numbers": {"type": "object", "additionalProperties": _refer("named")},
        "answers": {"type": "object", "additionalProperties": answer},
    }
    whole = _object(
        {
            "schema": {"const": SCHEMA},
            "vanwater": _TEXT,
            "plan": _object({"name": _TEXT, "revision": _TEXT, "situation": _TEXT}),
            "units": {"const": "SI"},
            **told,
            "situations": {"type": "object", "additionalProperties": _object(told)},
        }
    )
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Answers of vanwater to one plan, every number in SI",
        **whole,
        "$defs": {
            "number": _object(_PARTS, _STATES),
            "named": _object({**_NAMED, **_PARTS}, {**_STATES, "unranged": _TEXT}),
        },
    }
