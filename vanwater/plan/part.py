"""What every piece of a plan has in common: strict keys, frozen values, described fields."""

from __future__ import annotations

import math
import operator
from collections.abc import Iterator
from dataclasses import replace
from typing import Annotated, Any, Self

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, Strict, model_validator
from pydantic_core import PydanticCustomError

from vanwater.quantities import Quantity

__all__ = ["Part", "Stocked", "Whole", "YesNo", "above", "asked", "such_as", "wrong"]


def _whole(value: object) -> object:
    if isinstance(value, bool | str):
        raise PydanticCustomError("int_type", "no whole number")
    return operator.index(value) if hasattr(value, "__index__") else value


Whole = Annotated[int, BeforeValidator(_whole)]
"""A whole number, never a text or true."""

YesNo = Annotated[bool, Strict()]
"""True or false, never a text or a number."""


def above(value: float, limit: float) -> bool:
    """Whether a value lies above another by more than the rounding of units, so that 10.1 cm and 101 mm are equal.

    Parameters
    ----------
    value, limit : float
        Values in SI.

    Returns
    -------
    bool
        False where they agree within one part in 10⁹, as a quantity is read.
    """
    return value > limit and not math.isclose(value, limit, rel_tol=1e-9, abs_tol=1e-12)


class Part(BaseModel):
    """A piece of the plan: one table of the file.

    Unknown keys are refused; a part never changes once made.
    """

    model_config = ConfigDict(extra="forbid", frozen=True, allow_inf_nan=False)

    def clashes(self) -> Iterator[PydanticCustomError]:
        """What does not fit together within this part, each made by :func:`wrong`."""
        return iter(())

    def capped(self, field: str) -> tuple[str, str] | None:  # noqa: ARG002 - a tank looks at it
        """Which other field keeps this one from counting, and why, as a sentence; None where it counts."""
        return None

    @model_validator(mode="after")
    def _fits_together(self) -> Self:
        clashes = [error.context for error in self.clashes()]
        if clashes:
            raise PydanticCustomError("check", "parts that do not fit together", {"clashes": clashes})
        return self


class Stocked(Part):
    """A piece that may be taken by name from the stock or from the builder's own shelf."""

    stock: str | None = Field(
        None, description="part of the stock or of your shelf; what is said beside it goes before"
    )
    why: str = Field("", max_length=400, description="why it was chosen, in words for the customer")


def asked(description: str, default: Any = None, **rules: Any) -> Any:
    """A field of a part: what it means, and its value while it is not decided.

    Parameters
    ----------
    description : str
        One plain phrase; it labels the slider and explains the field in the starter file.
    default : object
        The value while nothing is said; ``...`` when it must be said.
    **rules
        Passed on to pydantic (``ge``, ``le``, ``alias`` ...).

    Returns
    -------
    object
        A pydantic field.
    """
    return Field(default, description=description, **rules)


def such_as(quantity: Quantity, example: str) -> Quantity:
    """The same quantity with an example that is believable for this field.

    Parameters
    ----------
    quantity : Quantity
        With the field's own range.
    example : str
        A value as a builder would write it.

    Returns
    -------
    Quantity
        With that example.

    Raises
    ------
    QuantityError
        When the example is not believable itself.
    """
    quantity.read(example)
    return replace(quantity, example=example, us_example="")


def wrong(field: str, message: str, expected: str, slip: str = "", about: tuple[str, ...] = ()) -> PydanticCustomError:
    """Something that does not fit together, at the field that is best mended.

    Parameters
    ----------
    field : str
        Name of the field in the file, or an empty text for the whole part.
    message, expected, slip : str
        What is wrong, what was expected, the likely slip.
    about : tuple of str
        The other fields that were looked at: while one of them is wrong by itself, nothing is said.

    Returns
    -------
    PydanticCustomError
        To be yielded by :meth:`Part.clashes`.
    """
    return PydanticCustomError(
        "check",
        "parts that do not fit together",
        {"field": field, "message": message, "expected": expected, "slip": slip, "about": about},
    )
