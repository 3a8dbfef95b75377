"""The plan that a notebook begins with: the one that was handed over, else an example."""

from __future__ import annotations

import os
from collections.abc import Mapping

from vanwater.plan.file import PlanFile, read
from vanwater.plan.problems import PlanError
from vanwater.plan.tables import resource

__all__ = ["EXAMPLE", "PLAN_VARIABLE", "RefusedPlanError", "plan_in_hand"]

PLAN_VARIABLE = "VANWATER_PLAN"
"""Variable of the environment that names the plan's file; ``vanwater lab PLAN`` sets it."""

EXAMPLE = "family-winter.toml"


class RefusedPlanError(PlanError):
    """A plan that cannot be used, told in a notebook without the way through the program."""

    def _render_traceback_(self) -> list[str]:
        return ["This plan cannot be used:", *(str(problem) for problem in self.problems)]


def plan_in_hand(environment: Mapping[str, str] = os.environ) -> PlanFile:
    """Read the plan that the notebook was opened with.

    Parameters
    ----------
    environment : mapping
        Where the plan's file may be named.

    Returns
    -------
    PlanFile
        The plan handed over, else the example of a family van.

    Raises
    ------
    RefusedPlanError
        With every problem of the file.
    """
    named = environment.get(PLAN_VARIABLE, "")
    try:
        return read(named or resource("data", "plans", EXAMPLE))
    except PlanError as error:
        raise RefusedPlanError(error.problems) from None
