"""What the answers of one state of the code were: every number, range, unit and verdict word, at full precision.

``before.json.xz`` holds them for the plans of ``plans.py`` as the commit named in it gave them. It was written by

    git worktree add ../before COMMIT
    python -m tests.net.record ../before

and is written again only where answers are meant to change, as the changelog then says: it is the state that later
ones are compared with. ``renamed.csv`` keeps how keys were called before they named the thing. ``kept()`` reads today's
answers into the same form; when the form of ``vanwater check --json`` changes, it is the one place to change here.
"""

from __future__ import annotations

import json
import lzma
import subprocess
import sys
from collections import Counter
from collections.abc import Mapping
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from vanwater.answers.questions import Answers

__all__ = ["answered", "before", "kept"]

Number = list[Any]
"""Value, low, high (floats, "inf", "nan", None or a text), SI unit."""

FILE = Path(__file__).parent / "before.json.xz"
PARTS = ("value", "limit", "margin", "gain")
"""Numbers that a finding carries."""


@cache
def before() -> dict[str, Any]:
    """The record: the commit, and by plan its "numbers" and "words"."""
    record: dict[str, Any] = json.loads(lzma.decompress(FILE.read_bytes()))
    return record


def answered(raw: Mapping[str, Any]) -> Answers:
    """The answers to a plan as they are now."""
    from vanwater.answers.questions import answers_to
    from vanwater.plan.model import Plan

    return answers_to(Plan.of(raw, file=True))


def kept(answers: Answers) -> dict[str, dict[str, Any]]:
    """The numbers and words of answers.

    Keys of numbers are those of ``--why``; "finding:KEY|value" (limit, margin, gain) are numbers of a finding and
    "cell:ANSWER|TABLE|FIRST CELL|HEADING" those of a table. Words are "answer:KEY" (decided or not) and "finding:KEY"
    (its verdict). What comes twice is numbered: "flow #2".
    """
    numbers: dict[str, Number] = {}
    words: dict[str, str] = {}
    told = json.loads(whole_json(answers))
    for key, answer in told["answers"].items():
        words[f"answer:{key}"] = "decided" if answer["decided"] else "not decided"
        own = answer["numbers"]  # keys since schema 2, the numbers themselves before
        own = own if isinstance(own, Mapping) else {name: told["numbers"][name] for name in own}
        numbers |= {name: _number(said) for name, said in own.items()}
        for name, finding in zip(_counted([f["key"] for f in answer["findings"]]), answer["findings"], strict=True):
            words[f"finding:{name}"] = finding["verdict"]
            said = {part: finding[part] for part in PARTS if isinstance(finding[part], Mapping)}
            numbers |= {f"finding:{name}|{part}": _number(said[part]) for part in said}
        for table in answer["tables"]:
            headings = _counted([column["heading"] for column in table["columns"]])
            labels = _counted([row[0] if isinstance(row[0], str) else "" for row in table["rows"]])
            for label, row in zip(labels, table["rows"], strict=True):
                cells = {
                    heading: cell for heading, cell in zip(headings, row, strict=True) if isinstance(cell, Mapping)
                }
                place = f"cell:{key}|{table['key']}|{label}"
                numbers |= {f"{place}|{heading}": _number(cell) for heading, cell in cells.items()}
    return {"numbers": numbers, "words": words}


def whole_json(answers: Answers) -> str:
    """All that ``vanwater check --json`` writes."""
    from vanwater.terminal.json_form import json_text

    return json_text(answers, "", "utf-8")


def _counted(names: list[str]) -> list[str]:
    seen: Counter[str] = Counter()
    numbered = []
    for name in names:
        seen[name] += 1
        numbered.append(name if seen[name] == 1 else f"{name} #{seen[name]}")
    return numbered


def _number(said: Mapping[str, Any]) -> Number:
    if said.get("state") == "words":
        return [said["text"], None, None, None]
    ends = (("value", "state"), ("low", "low_state"), ("high", "high_state"))
    states = {"unlimited": "inf", "not known": "nan", None: None}
    return [*(said[end] if said[end] is not None else states[said.get(state)] for end, state in ends), said["unit"]]


def main(folder: str, whole: str = "") -> None:
    """Write the record by the code of another folder, and its whole JSON if a folder for that is named."""
    sys.path.insert(0, folder)
    import vanwater
    from tests.net.plans import raw_plans

    assert Path(vanwater.__file__).is_relative_to(Path(folder).resolve()), vanwater.__file__
    commit = subprocess.check_output(["git", "rev-parse", "HEAD"], cwd=folder, text=True).strip()
    plans = {name: kept(answered(raw)) for name, raw in raw_plans().items()}
    FILE.write_bytes(
        lzma.compress(json.dumps({"commit": commit, "plans": plans}, ensure_ascii=False).encode(), preset=9)
    )
    if whole:
        for name, raw in raw_plans().items():
            text = whole_json(answered(raw)).encode()
            (Path(whole) / f"{name}.json.xz").write_bytes(lzma.compress(text))


if __name__ == "__main__":
    main(*sys.argv[1:])
