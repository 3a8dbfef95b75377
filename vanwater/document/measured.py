"""What was measured on the van, on the short papers: beside what is expected, and as blanks for what is not yet."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from vanwater.answers.core.finding import Finding
from vanwater.answers.core.gathered import numbers_in
from vanwater.answers.core.handover import ONCE_MORE, Measure
from vanwater.answers.core.key import key_text
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Amount, Range, Say, say
from vanwater.answers.measured.answer import MeasuredOnTheVan
from vanwater.answers.measured.reading import Reading, expected_band

__all__ = ["Check", "OnTheVan", "on_the_van"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Check:
    """A measurement with what it should give, and what it gave.

    Parameters
    ----------
    what : Say
        What is measured.
    how : str
        How, and with what; a text of the program itself.
    expected : Amount, Range or Say
        What is expected.
    band : Say or None
        Within which it is well; None where it is told in words alone.
    key : str
        Under which the value goes into the plan; empty where no number is measured.
    reading : Reading or None
        What was measured.
    else_ : Say
        What a deviation means; where there is one, with what to correct in the plan.
    """

    what: Say
    how: str
    expected: Amount | Range | Say
    band: Say | None
    key: str
    reading: Reading | None
    else_: Say


@dataclass(frozen=True, slots=True)
class OnTheVan:
    """What was measured, and what is to be measured.

    Parameters
    ----------
    checks : tuple of Check
        In the order in which they are made, then what else was measured.
    readings : tuple of Reading
        What was measured.
    """

    checks: tuple[Check, ...]
    readings: tuple[Reading, ...]
    _by_key: dict[str, Reading] = field(default_factory=dict)

    def beside(self, shown: Say | Amount | Range, *, brief: bool = False) -> tuple[Say, ...]:
        """What was measured of the numbers that something shows, each once; without its day where that is brief."""
        keys = dict.fromkeys(key_text(number.key) for number in numbers_in(shown) if number.key)
        known = [self._by_key[key] for key in keys if key in self._by_key]
        return tuple(say("measured: {value}", value=each.value) if brief else each.told for each in known)


def on_the_van(measures: Sequence[Measure], answers: Sequence[Answer]) -> OnTheVan:
    """Put measurements and measured values together.

    Parameters
    ----------
    measures : sequence of Measure
        In the order in which they are made.
    answers : sequence of Answer
        To the plan; what was measured is among them.

    Returns
    -------
    OnTheVan
        For the short papers.
    """
    asked = [answer for answer in answers if isinstance(answer, MeasuredOnTheVan)]
    readings = tuple(each for answer in asked for each in answer.readings)
    findings = {finding.key: finding for answer in asked for finding in answer.findings}
    by_key = {each.key: each for each in readings}
    return OnTheVan(tuple(_checks(measures, by_key, findings)), readings, by_key)


def _checks(measures: Sequence[Measure], readings: dict[str, Reading], findings: dict[str, Finding]) -> Iterator[Check]:
    left = dict(readings)
    for each in measures:
        key = key_text(each.number.key) if each.number is not None else ""
        reading = left.pop(key, None)
        band = reading.band if reading is not None else expected_band(each)
        yield Check(
            what=each.what,
            how=each.how,
            expected=each.expected,
            band=band.told if band is not None else None,
            key=key,
            reading=reading,
            else_=_else(reading, findings, each.meant()),
        )
    for key, reading in left.items():
        yield Check(
            what=reading.what,
            how="",
            expected=reading.expected.shown,
            band=reading.band.told if reading.band is not None else None,
            key=key,
            reading=reading,
            else_=_else(reading, findings, ONCE_MORE),
        )


def _else(reading: Reading | None, findings: dict[str, Finding], means: Say) -> Say:
    """What a deviation means; of a value outside its band also what to correct."""
    finding = findings.get(f"measured.{reading.key}.{reading.side}") if reading is not None else None
    return means if finding is None or finding.change is None else finding.change
