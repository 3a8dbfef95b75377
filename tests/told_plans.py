"""A few of many plans that make every sentence which any of the many is told; and what they are told and shown.

``python -m tests.told_plans draw`` looks for them anew, among those of ``tests/net/``, the fleet, the dangers and plans
of every shape; ``python -m tests.sentences`` tells them anew as they are. Those of ``tests/rare_plans.py`` always stand
among them.
"""

from __future__ import annotations

import json
import lzma
import sys
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Any

from tests.answers.dangers import DANGERS, WISHES, plan_with
from tests.examples import NAMES, example
from tests.fleet import sound_van
from tests.net.plans import every_shape, raw_plans
from tests.net.record import answered
from tests.rare_plans import rare_plans
from tests.sentences import in_plain_spaces, of_answer, text
from tests.shown import shown
from vanwater.answers.core.statement import Say
from vanwater.answers.questions import Answers, answers_to

FILE = Path(__file__).parent / "told" / "plans.json.xz"
FLEET, SHAPES = 40, 400

Raw = Mapping[str, Any]


def told(answers: Answers) -> list[str]:
    """Every sentence of the answers to a plan, in its units, and what is shown beside."""
    lines = [f"{key} {kind}: {text(words, answers.plan.us)}" for key, kind, words in _sentences(answers) if words]
    lines += (f"missing {lack.address}: {lack.statement.text()} → {lack.change.text()}" for lack in answers.missing)
    return [in_plain_spaces(line) for line in (*lines, *shown(answers))]


@cache
def kept() -> dict[str, dict[str, Any]]:
    """By name the "plan" and the "lines" that were read."""
    plans: dict[str, dict[str, Any]] = json.loads(lzma.decompress(FILE.read_bytes()))
    return plans


def write(plans: Mapping[str, Raw]) -> None:
    """Keep plans, and the rare ones, with what they are told."""
    rare = {f"rare: {name}": raw for name, raw in rare_plans().items()}
    every = rare | {name: raw for name, raw in plans.items() if not name.startswith("rare: ")}
    lines = {name: {"plan": raw, "lines": told(answered(raw))} for name, raw in every.items()}
    FILE.write_bytes(lzma.compress(json.dumps(lines, ensure_ascii=False).encode(), preset=9))


def _sentences(answers: Answers) -> Iterator[tuple[str, str, Say | str | None]]:
    for key, answer in answers.items():
        yield from ((key, kind, words) for kind, words in of_answer(answer))


def _templates(words: object) -> Iterator[str]:
    """Every sentence with holes that stands in some words."""
    if isinstance(words, Say):
        yield words.template
        for _, given in words.given:
            yield from _templates(given)
    elif isinstance(words, tuple):
        for given in words:
            yield from _templates(given)


def _many() -> Iterator[tuple[str, Raw]]:
    yield from ((name, raw) for name, raw in raw_plans().items() if name not in NAMES)
    yield from ((f"danger: {name}", plan_with(WISHES, planted).own) for name, (_, planted) in DANGERS.items())
    yield from ((f"fleet {number}", sound_van(number).raw) for number in range(FLEET))
    yield from ((f"shape {number}", raw) for number, raw in enumerate(every_shape(SHAPES)))


def draw() -> dict[str, Raw]:
    """As few plans as make every sentence, those with most new ones first; what the code refuses is left out."""
    sentences, plans = {}, {}
    for name, raw in _many():
        try:
            answers = answered(raw)
            sentences[name] = {template for _, _, words in _sentences(answers) for template in _templates(words)}
        except Exception:  # half-written plans may be refused
            continue
        plans[name] = raw
    seen = {
        template
        for name in NAMES
        for _, _, words in _sentences(answers_to(example(name)))
        for template in _templates(words)
    }
    left, chosen = set[str]().union(*sentences.values()) - seen, list[str]()
    while left:
        chosen.append(max(sentences, key=lambda name: len(sentences[name] & left)))
        left -= sentences[chosen[-1]]
    return {name: plans[name] for name in sorted(chosen)}


if __name__ == "__main__":
    write(draw() if sys.argv[1:] == ["draw"] else {name: each["plan"] for name, each in kept().items()})
