"""vanwater: the water of a camper van, worked out before a hole is cut.

>>> import vanwater
>>> answers = vanwater.check("data/plans/weekend-cans.toml")  # doctest: +SKIP
>>> print(answers.headline.text())  # doctest: +SKIP
>>> from vanwater.physics import friction_loss  # any formula by its name; ``vanwater.physics.<Tab>`` shows them all

The names below are imported when they are first used, so that ``import vanwater`` itself costs nothing.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from pathlib import Path

    from vanwater import physics
    from vanwater.answers.core.finding import Finding, Verdict
    from vanwater.answers.core.question import Answer
    from vanwater.answers.questions import Answers, answers_to
    from vanwater.options.comparison import Comparison
    from vanwater.options.ready import Ready, ready
    from vanwater.options.smallest import Smallest, smallest
    from vanwater.options.sweep import Sweep, sweep
    from vanwater.options.tornado import tornado
    from vanwater.options.tornado_bars import Tornado
    from vanwater.options.variants import compare
    from vanwater.plan.file import PlanFile, read
    from vanwater.plan.model import Plan
    from vanwater.plan.overlay import Overlay
    from vanwater.plan.problems import PlanError, Problem
    from vanwater.quantities.believable import OutOfRangeWarning

__all__ = [
    "Answer",
    "Answers",
    "Comparison",
    "Finding",
    "OutOfRangeWarning",
    "Overlay",
    "Plan",
    "PlanError",
    "PlanFile",
    "Problem",
    "Ready",
    "Smallest",
    "Sweep",
    "Tornado",
    "Verdict",
    "__version__",
    "answers_to",
    "check",
    "compare",
    "physics",
    "read",
    "ready",
    "smallest",
    "sweep",
    "tornado",
]

__version__ = "0.1.0"

_HOMES = {
    "Answer": "vanwater.answers.core.question",
    "Answers": "vanwater.answers.questions",
    "Comparison": "vanwater.options.comparison",
    "Finding": "vanwater.answers.core.finding",
    "OutOfRangeWarning": "vanwater.quantities.believable",
    "Overlay": "vanwater.plan.overlay",
    "Plan": "vanwater.plan.model",
    "PlanError": "vanwater.plan.problems",
    "PlanFile": "vanwater.plan.file",
    "Problem": "vanwater.plan.problems",
    "Ready": "vanwater.options.ready",
    "Smallest": "vanwater.options.smallest",
    "Sweep": "vanwater.options.sweep",
    "Tornado": "vanwater.options.tornado_bars",
    "Verdict": "vanwater.answers.core.finding",
    "answers_to": "vanwater.answers.questions",
    "compare": "vanwater.options.variants",
    "read": "vanwater.plan.file",
    "ready": "vanwater.options.ready",
    "smallest": "vanwater.options.smallest",
    "sweep": "vanwater.options.sweep",
    "tornado": "vanwater.options.tornado",
}


def check(path: Path | str) -> Answers:
    """Read a plan's file and answer every question about it.

    Parameters
    ----------
    path : Path or str
        A plan's file.

    Returns
    -------
    Answers
        What ``vanwater check`` shows.

    Raises
    ------
    PlanError
        With every problem of the file.
    """
    from vanwater.answers.questions import answers_to
    from vanwater.plan.file import read

    return answers_to(read(path).plan)


def __getattr__(name: str) -> Any:
    if name == "physics":
        return import_module("vanwater.physics")
    home = _HOMES.get(name)
    if home is None:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    value = getattr(import_module(home), name)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
