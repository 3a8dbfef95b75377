"""A named set of other values for a plan: what if, what instead, when."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any, TypeVar

from vanwater.plan.problems import PlanError
from vanwater.plan.raw import copied

if TYPE_CHECKING:
    from vanwater.plan.model import Plan

__all__ = ["Overlay"]

P = TypeVar("P", bound="Plan")


@dataclass(frozen=True, slots=True)
class Overlay:
    """Other values for some addresses of a plan, read like those of its file.

    Parameters
    ----------
    name : str
        What it is called: "winter", "a larger grey tank".
    values : mapping of str to object
        By address: texts with their units, counts, names; None takes a value or a part out, a table is a whole new
        part. A number is refused where a unit is due.
    """

    name: str
    values: Mapping[str, Any] = field(default_factory=dict)

    def __post_init__(self) -> None:
        object.__setattr__(self, "values", copied(dict(self.values)))

    def plan(self, base: P) -> P:
        """A plan with these values in place of its own.

        Parameters
        ----------
        base : Plan
            The plan that it is laid over; it stays as it is.

        Returns
        -------
        Plan
            The same object at every call.

        Raises
        ------
        PlanError
            With every problem, under the overlay's name and the address of its value.
        """
        return base.once(f"overlay {self.name!r} {sorted(self.values.items())!r}", lambda: self._over(base))

    def _over(self, base: P) -> P:
        try:
            return base.changed(self.values)
        except PlanError as error:
            raise PlanError(problem.at(self.name, None) for problem in error.problems) from None
