"""Every sentence that the example vans are told, in both unit systems, a line each, as ``tests/told/`` holds them.

Beside them stands what else is shown (``tests/shown.py``). ``python -m tests.sentences`` writes the files anew, those
of the plans in ``tests/told_plans.py`` too; ``tests/test_sentences.py`` and ``tests/net/`` compare them.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

from tests.examples import NAMES, example
from tests.shown import shown
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Say
from vanwater.answers.missing import missing
from vanwater.answers.questions import answers_to
from vanwater.plan.model import Plan
from vanwater.quantities import retold

TOLD = Path(__file__).parent / "told"
SYSTEMS = {"metric": False, "us": True}
_PLAIN_SPACES = str.maketrans("\N{NO-BREAK SPACE}\N{NARROW NO-BREAK SPACE}\N{FIGURE SPACE}", "   ")


def told(plan: Plan, us: bool) -> list[str]:
    """Every sentence of a plan's answers behind the key of what tells it, in the order of the alphabet.

    Those that only a situation tells stand behind its name.
    """
    own = _lines(plan, us)
    situations = {name: _lines(plan.in_situation(name), us) - own for name in plan.situations}
    return [*sorted(own), *(f"in {name} | {line}" for name, lines in situations.items() for line in sorted(lines))]


def beside(plan: Plan) -> list[str]:
    """What a plan's answers show beside sentences."""
    return [in_plain_spaces(line) for line in shown(answers_to(plan))]


def in_plain_spaces(line: str) -> str:
    """A line without spaces of other widths, and without several of them side by side."""
    return " ".join(line.translate(_PLAIN_SPACES).split())


def _lines(plan: Plan, us: bool) -> set[str]:
    sentences = _sentences(plan.read_in(us))
    return {f"{key}: {text(words, us)}".translate(_PLAIN_SPACES) for key, words in sentences if words}


def path(name: str, system: str) -> Path:
    """Where the sentences of an example are kept, or, as "shown", what it shows beside them."""
    return TOLD / f"{name}.{system}.txt"


def _sentences(plan: Plan) -> Iterator[tuple[str, Say | str | None]]:
    for lack in missing(plan):
        yield f"missing {lack.address}", lack.statement
        yield f"missing {lack.address} → ", lack.change
    for key, answer in answers_to(plan).items():
        for kind, words in of_answer(answer):
            yield f"{key} {kind}", words


def of_answer(answer: Answer) -> Iterator[tuple[str, Say | str | None]]:
    """Every sentence of an answer behind the kind of it."""
    yield "title", answer.title
    yield "verdict", answer.verdict
    for finding in answer.findings:
        yield f"finding {finding.key} {finding.verdict.mark}", finding.statement
        yield f"finding {finding.key} →", finding.advice
        yield f"finding {finding.key} source", finding.source
    for assumption in answer.assumptions:
        yield f"assumption {assumption.key}", assumption.statement
        yield f"assumption {assumption.key} →", assumption.measure
        yield f"assumption {assumption.key} source", assumption.source
    for caution in answer.cautions:
        yield f"caution {caution.key}", caution.text
        yield f"caution {caution.key} in brief", caution.short
        yield f"caution {caution.key} source", caution.source
    for table in answer.tables:
        yield f"table {table.key}", table.caption
        yield f"table {table.key} note", table.note
        yield f"table {table.key} heads", " | ".join(column.heading for column in table.columns)
        yield from ((f"table {table.key} cell", cell) for row in table.rows for cell in row if isinstance(cell, Say))


def text(words: Say | str, us: bool) -> str:
    """A sentence as it is read."""
    return retold(words, us) if isinstance(words, str) else words.text(us)


def write() -> None:
    """Write every file anew."""
    TOLD.mkdir(exist_ok=True)
    for name in NAMES:
        for system, us in SYSTEMS.items():
            path(name, system).write_text("\n".join(told(example(name), us)) + "\n", encoding="utf-8")
        path(name, "shown").write_text("\n".join(beside(example(name))) + "\n", encoding="utf-8")


if __name__ == "__main__":
    from tests.told_plans import kept
    from tests.told_plans import write as write_plans

    write()
    write_plans({name: each["plan"] for name, each in kept().items()})
