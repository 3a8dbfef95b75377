"""Put a plan and up to four variants side by side, other values for it or whole plans."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace

from vanwater.answers.questions import Answers, answers_to
from vanwater.options.altered import altered
from vanwater.options.comparison import Comparison, Variant
from vanwater.options.designs import axes_of
from vanwater.options.known import unknown_number
from vanwater.plan.model import Plan
from vanwater.plan.overlay import Overlay
from vanwater.plan.problems import PlanError, Problem, shown

__all__ = ["AS_PLANNED", "MOST", "compare", "compare_plans"]

AS_PLANNED = "as planned"
"""What the plan itself is called beside its variants."""

MOST = 4
"""Variants that stand beside a plan; with more, nobody sees what differs."""


def compare(
    plan: Plan, variants: Sequence[Overlay | Plan], keys: Sequence[str] | None = None, base: Answers | None = None
) -> Comparison:
    """Put a plan and one to four variants side by side.

    Both plans hang on the same unsure inputs: the same people, the same kind of pump. So the range of a difference is
    not made of the two ranges; it is the root-sum-square of what each input moves the difference itself, row by row
    (:func:`vanwater.answers.core.difference.difference`). A difference is sure where both ends have its sign.

    Parameters
    ----------
    plan : Plan
        The plan.
    variants : sequence of Overlay or Plan
        Other values for it, or whole plans, which are called by the name of their van.
    keys : sequence of str, optional
        Numbers that are wanted beside the headline; without it, all that differ.
    base : Answers, optional
        The answers to the plan, where they are known already.

    Returns
    -------
    Comparison
        A variant that can be no plan is among them, with the reason.

    Raises
    ------
    PlanError
        When there are none or too many variants, two have one name, an address is unknown, a unit is missing.
    KeyError
        When a wanted number is none of any plan, with the nearest one.
    """
    _fit(tuple(each.name if isinstance(each, Overlay) else each.van.name for each in variants))
    for each in variants:
        if isinstance(each, Overlay):
            _readable(plan, each)
    return _compared(AS_PLANNED, base or answers_to(plan), [_variant(plan, each) for each in variants], keys)


def compare_plans(name: str, plan: Plan, others: Mapping[str, Plan], keys: Sequence[str] | None = None) -> Comparison:
    """Put plans of several files side by side.

    Parameters
    ----------
    name : str
        What the first is called.
    plan : Plan
        The first plan, from which the others differ.
    others : mapping of str to Plan
        The others by what they are called.
    keys : sequence of str, optional
        Numbers that are wanted beside the headline; without it, all that differ.

    Returns
    -------
    Comparison
        As :func:`compare` gives it.

    Raises
    ------
    PlanError
        When there are none or too many others.
    KeyError
        When a wanted number is none of any plan, with the nearest one.
    """
    _fit((name, *others), first=1)
    variants = [_whole(plan, other, each) for other, each in others.items()]
    return _compared(name, answers_to(plan), variants, keys)


def _compared(name: str, base: Answers, variants: Sequence[Variant], keys: Sequence[str] | None) -> Comparison:
    comparison = Comparison(base=base, name=name, variants=tuple(variants), keys=None if keys is None else tuple(keys))
    for key in keys or ():
        if key not in comparison.known:
            raise KeyError(unknown_number(key, comparison.known))
    return comparison


def _fit(names: tuple[str, ...], first: int = 0) -> None:
    """Refuse none, too many, and two of one name."""
    count = len(names) - first
    if not 1 <= count <= MOST:
        told = "There is no variant to compare with." if not count else f"{count} variants are too many to compare."
        raise PlanError([Problem("", told, f"one to {MOST} of them")])
    twice = next((name for place, name in enumerate(names) if name in (*names[:place], AS_PLANNED)), None)
    if twice is not None:
        raise PlanError([Problem("", f"Two of them are called {shown(twice)}.", "a name of its own for each variant")])


def _readable(plan: Plan, overlay: Overlay) -> None:
    """Refuse places that the plan lacks and values that cannot be read: slips of who wrote them."""
    below = {
        address: [value]
        for address, value in overlay.values.items()
        if not any(address.startswith(f"{above}.") for above in overlay.values)
    }
    try:
        if below:
            axes_of(plan, below)
    except PlanError as error:
        raise PlanError(problem.at(overlay.name, None) for problem in error.problems) from None


def _variant(plan: Plan, variant: Overlay | Plan) -> Variant:
    if isinstance(variant, Plan):
        return _whole(plan, variant.van.name, variant)
    try:
        other = variant.plan(plan)
    except PlanError as error:
        why = " ".join(str(replace(problem, file="")) for problem in error.problems)
        return Variant(name=variant.name, values=variant.values, problem=why)
    return Variant(name=variant.name, values=variant.values, answers=answers_to(other))


def _whole(plan: Plan, name: str, other: Plan) -> Variant:
    return Variant(name=name, values=altered(plan, other), answers=answers_to(other.read_in(plan.us)))
