"""How a bench stands, in the few lines of an e-mail."""

from __future__ import annotations

from vanwater.answers.core.finding import Verdict
from vanwater.answers.core.statement import plain
from vanwater.answers.questions import QUESTIONS
from vanwater.panels.bench import Bench

__all__ = ["mail_line"]


def mail_line(bench: Bench) -> str:
    """Tell in plain text how the van on a bench stands.

    Parameters
    ----------
    bench : Bench
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
