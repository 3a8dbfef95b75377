"""How a connection is written: "barb 13 mm", "push-fit 12 mm", "BSP 1/2 in male", "M22 x 1.5 female"."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import lru_cache
from typing import Annotated

from pydantic import AfterValidator
from pydantic_core import PydanticCustomError

from vanwater.plan.problems import shown
from vanwater.plan.tables import joints, listed_by
from vanwater.quantities import BORE, QuantityError, in_us

__all__ = ["ENDS", "Connection", "Joint", "read_joint"]

ENDS = ("barb", "push-fit", "crimp", "press", "compression")
"""Ways to hold the plain end of a hose or pipe."""

METRIC = '"barb 13 mm", "push-fit 12 mm", "compression 15 mm", "crimp 1/2 in", "BSP 1/2 in male" or "M22 x 1.5 female"'
US = '"barb 1/2 in", "crimp 1/2 in", "compression 1/2 in", "push-fit 1/2 in" or "NPT 1/2 in male"'

_INCH = re.compile(r"(bsp|npt|ght|camlock)\s+(\d+(?:(?: \d+)?/\d+)?)\s*(?:in|inch|\")?\s+(male|female)")
_METRIC = re.compile(r"(?:metric\s+)?m\s*(\d+(?:\.\d+)?)\s*x\s*(\d+(?:\.\d+)?)\s+(male|female)")
_END = re.compile(rf"({'|'.join(ENDS)})\s+(\S.*)")
_METRIC_SIZES = (6.0, 60.0)
_PITCHES = (0.5, 4.0)


@dataclass(frozen=True, slots=True)
class Joint:
    """A connection.

    Parameters
    ----------
    kind : str
        One of ``ENDS``, or "bsp", "npt", "ght", "metric" for a thread; "camlock" is screwed like one.
    size : float
        What is held: bore of a hose, outside of a pipe, nominal size of PEX by inches; outside of a thread [m].
    sex : str
        "male" or "female" for a thread, else empty.
    pitch : float
        Of a thread [m]; 0 for what has none.
    text : str
        As it is written.
    """

    kind: str
    size: float
    sex: str
    pitch: float
    text: str

    @property
    def thread(self) -> bool:
        """Whether it is screwed."""
        return bool(self.sex)

    @property
    def turned(self) -> str:
        """The connection that a thread is screwed to, in words; an end is held by its own kind."""
        other = "female" if self.sex == "male" else "male"
        return f"{self.text.rsplit(maxsplit=1)[0]} {other}" if self.thread else self.text


@lru_cache(maxsize=256)
def read_joint(text: str) -> Joint:
    """Read a connection.

    Parameters
    ----------
    text : str
        As a builder writes it.

    Returns
    -------
    Joint
        The connection.

    Raises
    ------
    ValueError
        When it is none: what was expected instead.

    Examples
    --------
    >>> read_joint("BSP 1/2 in male").turned
    'BSP 1/2 in female'
    >>> round(read_joint("push-fit 12 mm").size, 6)
    0.012
    """
    words = " ".join(text.split())
    plain = words.lower()
    inch, metric, end = (pattern.fullmatch(plain) for pattern in (_INCH, _METRIC, _END))
    if inch:
        word = "camlock couplings" if inch[1] == "camlock" else f"{inch[1].upper()} threads"
        row = joints().get(f"{inch[1]} {inch[2]}")
        if row is None or row.outside is None:
            sizes = ", ".join(key.partition(" ")[2] for key in joints() if key.startswith(inch[1]))
            raise ValueError(f"{word} go by the sizes {sizes} in")
        return Joint(inch[1], row.outside, inch[3], row.pitch or 0.0, f"{word.split()[0]} {inch[2]} in {inch[3]}")
    if metric:
        outside, pitch = float(metric[1]), float(metric[2])
        if not (_METRIC_SIZES[0] <= outside <= _METRIC_SIZES[1] and _PITCHES[0] <= pitch <= _PITCHES[1]):
            raise ValueError("M6 to M60 with a pitch of 0.5 to 4 mm")
        return Joint("metric", outside / 1e3, metric[3], pitch / 1e3, f"M{metric[1]} x {metric[2]} {metric[3]}")
    if end:
        try:
            return Joint(end[1], BORE.read(end[2]), "", 0.0, f"{end[1]} {end[2]}")
        except QuantityError as error:
            raise ValueError(US if in_us() else METRIC) from error
    raise ValueError(US if in_us() else METRIC)


def _connection(text: str) -> str:
    try:
        read_joint(text)
    except ValueError as error:
        told = {
            "message": f"{shown(text)} is no connection that is known.",
            "expected": str(error),
            "slip": _slip(text),
        }
        raise PydanticCustomError("quantity", "no connection", told) from error
    return text


def _slip(text: str) -> str:
    if re.fullmatch(r"\s*(bsp|npt|m\s*\d).*", text.lower()) and "male" not in text.lower():
        return 'Say "male" or "female" behind a thread.'
    if re.match(r"\s*[gr]\s*\d", text.lower()):
        return 'G and R threads are written "BSP".'
    return listed_by("joints")


Connection = Annotated[str, AfterValidator(_connection)]
"""A text that :func:`read_joint` reads."""
