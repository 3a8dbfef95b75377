from __future__ import annotations

import json

import pytest

from vanwater.command import main
from vanwater.terminal.json_schema import json_schema


def test_it_is_printed_without_a_plan(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["check", "--json-schema"]) == 0
    assert json.loads(capsys.readouterr().out) == json_schema()


def test_every_reference_leads_somewhere() -> None:
    text = json.dumps(json_schema())
    for name in ("number", "named"):
        assert f"#/$defs/{name}" in text and name in json_schema()["$defs"]
