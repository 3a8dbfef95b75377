"""Texts of the program itself, with the values that stand in them in the reader's units.

What a formula's note, a source or a description says ("5 mm if not said") is written once; whoever reads the other
system of units gets its values turned round. A builder's own texts never come here.
"""

from __future__ import annotations

import re
from functools import lru_cache

from vanwater.quantities.vocabulary import (
    BORE,
    BTU,
    CONDUCTIVITY,
    DAILY_VOLUME,
    DENSITY,
    FLOW,
    FOOT,
    HEAT_CAPACITY,
    LATENT_HEAT,
    LENGTH,
    MASS,
    POUND,
    PRESSURE,
    RANKINE,
    ROAD_SPEED,
    SPEED,
    TEMPERATURE,
    TRANSMITTANCE,
    US_GALLON,
    VOLUME,
)
from vanwater.quantities.writing import number

__all__ = ["retold"]

_LEAST_DIGITS = 2


def _factors() -> tuple[dict[str, tuple[str, float]], dict[str, tuple[str, float]]]:
    """By the unit that a text is written in: the other system's, and how many of them it is; metric, then US ones."""
    pairs = [
        (BORE, "mm", "in"),
        (BORE, "cm", "in"),
        (LENGTH, "m", "ft"),
        (VOLUME, "L", "gal"),
        (VOLUME, "mL", "fl oz"),
        (FLOW, "L/min", "gal/min"),
        (FLOW, "L/h", "gal/h"),
        (DAILY_VOLUME, "L/day", "gal/day"),
        (PRESSURE, "bar", "psi"),
        (PRESSURE, "mbar", "psi"),
        (MASS, "kg", "lb"),
        (ROAD_SPEED, "km/h", "mph"),
        (SPEED, "m/s", "ft/s"),
        (CONDUCTIVITY, "W/(m·K)", "Btu·in/(h·ft²·°F)"),
        (TRANSMITTANCE, "W/(m²·K)", "Btu/(h·ft²·°F)"),
        (DENSITY, "kg/m³", "lb/ft³"),
        (HEAT_CAPACITY, "J/(kg·K)", "Btu/(lb·°F)"),
        (LATENT_HEAT, "kJ/kg", "Btu/lb"),
    ]
    metric = {
        unit: (other, quantity.spellings[unit].factor / quantity.spellings[other].factor)
        for quantity, unit, other in pairs
    }
    metric["km"] = ("ft", 1000.0 / FOOT)
    metric["kg/L"] = ("lb/gal", 1000.0 * US_GALLON / POUND)
    metric["MJ/(m³·K)"] = ("Wh/(gal·°F)", 1e6 * US_GALLON * RANKINE / 3600.0)
    told = ("L", "mL", "L/min", "bar", "kg", "m", "kJ/kg")
    us = {metric[unit][0]: (unit, 1.0 / metric[unit][1]) for unit in told}
    us["Btu"] = ("Wh", BTU / 3600.0)
    return metric, us


_METRIC, _US = _factors()
_NUMBER = r"[−-]?\d+(?:\.\d+)?"


def _written_in(units: dict[str, tuple[str, float]], degree: str) -> re.Pattern[str]:
    """One value, or two that share a unit; a unit before a letter or a stroke is a symbol of a formula."""
    names = "|".join(map(re.escape, sorted((*units, degree), key=len, reverse=True)))
    return re.compile(
        rf"(?<![\w./·])(?:(?P<first>{_NUMBER})(?P<join> (?:x|to|and) |, ))?(?P<last>{_NUMBER}) (?P<unit>{names})"
        r"(?!\w|[/·²³^]| [/|^Σ]| [α-ωΑ-Ω])(?P<bore> bore)?(?: \((?P<inches>[\d/ ]+ in)\))?"
    )


_PATTERNS = {True: _written_in(_METRIC, "°C"), False: _written_in(_US, "°F")}
_IN_BRACKETS = re.compile(r"(?P<size>\d mm(?: bore)?) \([\d/ ]+ in\)")


@lru_cache(maxsize=2048)
def retold(text: str, us: bool) -> str:
    """A text of the program with its values in the reader's units.

    Parameters
    ----------
    text : str
        As it is written once; inches that name a size stay what they are.
    us : bool
        US units instead of metric ones.

    Returns
    -------
    str
        The text with values of the other system turned round, with as many digits as they have, at least two.

    Examples
    --------
    >>> retold("thickness of its wall; 5 mm if not said", True)
    'thickness of its wall; 0.2 in if not said'
    >>> retold("Reinforced PVC hose, 12.5 mm bore (1/2 in)", True)
    'Reinforced PVC hose, 1/2 in bore'
    """
    if not us:
        text = _IN_BRACKETS.sub(r"\g<size>", text)
    return _PATTERNS[us].sub(lambda said: _turned(said, us), text)


def _turned(said: re.Match[str], us: bool) -> str:
    if us and said["inches"]:
        return f"{said['inches']}{said['bore'] or ''}"
    unit = said["unit"]
    there, factor = ("°F" if us else "°C", 0.0) if unit in ("°C", "°F") else (_METRIC if us else _US)[unit]

    def turned(written: str) -> str:
        value = float(written.replace("\N{MINUS SIGN}", "-"))
        if not factor:
            return TEMPERATURE.number(float(TEMPERATURE.spellings[unit].to_si(value)), us)
        digits = len(re.sub(r"^[0.]+|\.", "", written.lstrip("−-")))
        return number(value * factor, max(digits, _LEAST_DIGITS))

    first = f"{turned(said['first'])}{said['join']}" if said["first"] else ""
    inches = f" ({said['inches']})" if said["inches"] else ""
    return f"{first}{turned(said['last'])} {there}{said['bore'] or ''}{inches}"
