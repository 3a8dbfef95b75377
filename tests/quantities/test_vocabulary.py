"""Every spelling of the vocabulary against pint 0.25 and later, live; none left out.

pint judges factor and offset; which pint unit a spelling means is said here, in words that do not come from the
vocabulary itself.
"""

from __future__ import annotations

import math
import typing
from collections.abc import Iterator
from functools import cache

import pint
import pytest

import vanwater.quantities as quantities
from tests.over import over
from vanwater.quantities import QUANTITIES, Quantity
from vanwater.quantities import vocabulary as vocabulary

LENGTH = {
    "m": "meter",
    "metre": "meter",
    "meter": "meter",
    "cm": "centimeter",
    "mm": "millimeter",
    "µm": "micrometer",
    "um": "micrometer",
    "micron": "micrometer",
    "in": "inch",
    "inch": "inch",
    "inches": "inch",
    **dict.fromkeys(('"', "″", "”"), "inch"),
    **dict.fromkeys(("'", "′", "’"), "foot"),
    "ft": "foot",
    "foot": "foot",
    "feet": "foot",
}
VOLUME = {
    **dict.fromkeys(("L", "l", "litre", "litres", "liter", "liters"), "liter"),
    **dict.fromkeys(("mL", "ml"), "milliliter"),
    **dict.fromkeys(("cL", "cl"), "centiliter"),
    **dict.fromkeys(("m³", "m3", "m^3"), "meter**3"),
    **dict.fromkeys(("ft³", "ft3", "ft^3", "cu ft", "cubic feet"), "foot**3"),
    **dict.fromkeys(("in³", "in3", "in^3", "cu in"), "inch**3"),
    **dict.fromkeys(
        ("gal", "gals", "gallon", "gallons", "US gal", "us gal", "US gallon", "US gallons"), "US_liquid_gallon"
    ),
    **dict.fromkeys(
        ("imp gal", "UK gal", "imp gallon", "imp gallons", "imperial gallon", "imperial gallons"), "imperial_gallon"
    ),
    **dict.fromkeys(("qt", "US qt", "quart", "quarts"), "US_liquid_quart"),
    **dict.fromkeys(("pt", "US pt", "pint", "pints"), "US_pint"),
    **dict.fromkeys(("fl oz", "US fl oz"), "US_fluid_ounce"),
    **dict.fromkeys(("cup", "US cup", "cups"), "US_liquid_cup"),
}
FLOW = {
    **dict.fromkeys(("L/min", "l/min", "lpm", "LPM", "L/minute"), "liter/minute"),
    **dict.fromkeys(("L/s", "l/s"), "liter/second"),
    **dict.fromkeys(("L/h", "l/h", "lph"), "liter/hour"),
    **dict.fromkeys(("mL/min", "ml/min"), "milliliter/minute"),
    **dict.fromkeys(("m³/h", "m3/h"), "meter**3/hour"),
    **dict.fromkeys(("m³/s", "m3/s"), "meter**3/second"),
    **dict.fromkeys(("gal/min", "gpm", "GPM", "US gal/min", "US gpm"), "US_liquid_gallon/minute"),
    **dict.fromkeys(("gallon/min", "gallons/min", "gallons a minute", "gallons per minute"), "US_liquid_gallon/minute"),
    **dict.fromkeys(("gal/h", "gph", "GPH", "gallons/h"), "US_liquid_gallon/hour"),
    **dict.fromkeys(("imp gal/min", "imp gpm"), "imperial_gallon/minute"),
}
PRESSURE = {
    "bar": "bar",
    "mbar": "millibar",
    "Pa": "pascal",
    "hPa": "hectopascal",
    "kPa": "kilopascal",
    "MPa": "megapascal",
    "psi": "pound_force_per_square_inch",
    **dict.fromkeys(("m H2O", "mH2O", "mWS"), "100*centimeter_H2O"),
    **dict.fromkeys(("ft H2O", "ftH2O"), "foot_H2O"),
    **dict.fromkeys(("in Hg", "inHg"), "inch_Hg"),
}
BTU = "international_british_thermal_unit"
ENERGY = {
    "Wh": "watt*hour",
    "kWh": "kilowatt*hour",
    "J": "joule",
    "kJ": "kilojoule",
    "MJ": "megajoule",
    "Btu": BTU,
    "BTU": BTU,
}
TIME = {
    **dict.fromkeys(("s", "sec", "second", "seconds"), "second"),
    **dict.fromkeys(("min", "minute", "minutes"), "minute"),
    **dict.fromkeys(("h", "hr", "hour", "hours"), "hour"),
    **dict.fromkeys(("d", "day", "days"), "day"),
    **dict.fromkeys(("week", "weeks"), "week"),
}
SPEED = {
    "m/s": "meter/second",
    "km/h": "kilometer/hour",
    "kph": "kilometer/hour",
    "mph": "mile/hour",
    "ft/s": "foot/second",
}
RATE = {
    **dict.fromkeys(("a day", "/day", "/d", "per day", "times a day", "x a day"), "1/day"),
    **dict.fromkeys(("a week", "/week", "per week", "times a week"), "1/week"),
    **dict.fromkeys(("an hour", "/h", "per hour"), "1/hour"),
}
A_DAY = ("/day", "/d", " a day")

AREA = {
    **dict.fromkeys(("m²", "m2"), "meter**2"),
    **dict.fromkeys(("cm²", "cm2"), "centimeter**2"),
    **dict.fromkeys(("mm²", "mm2"), "millimeter**2"),
    **dict.fromkeys(("in²", "in2", "sq in"), "inch**2"),
    **dict.fromkeys(("ft²", "ft2", "ft^2", "sq ft"), "foot**2"),
}

MEANING: dict[str, dict[str, str]] = {
    **dict.fromkeys(("length", "altitude", "place", "bore", "thickness", "roughness"), LENGTH),
    **dict.fromkeys(("area", "cross-section"), AREA),
    "volume": VOLUME,
    "flow": FLOW,
    **dict.fromkeys(("pressure", "absolute pressure", "pressure difference"), PRESSURE),
    "temperature": {
        **dict.fromkeys(("°C", "degC", "℃"), "degree_Celsius"),
        **dict.fromkeys(("°F", "degF", "℉"), "degree_Fahrenheit"),
        "K": "kelvin",
    },
    "temperature difference": {
        **dict.fromkeys(("K", "ΔK"), "kelvin"),
        "°C": "delta_degree_Celsius",
        **dict.fromkeys(("°F", "F°", "Δ°F"), "delta_degree_Fahrenheit"),
    },
    "power": {
        **dict.fromkeys(("W", "watt", "watts"), "watt"),
        "kW": "kilowatt",
        **dict.fromkeys(("Btu/h", "BTU/h"), f"{BTU}/hour"),
        "hp": "horsepower",
    },
    "energy": ENERGY,
    "energy a day": {f"{name}{end}": f"{unit}/day" for name, unit in ENERGY.items() for end in A_DAY},
    **dict.fromkeys(("duration", "stay"), TIME),
    **dict.fromkeys(("speed", "road speed"), SPEED),
    "mass": {
        "kg": "kilogram",
        "g": "gram",
        "t": "metric_ton",
        **dict.fromkeys(("lb", "lbs", "pound", "pounds"), "avoirdupois_pound"),
        **dict.fromkeys(("oz", "ounce", "ounces"), "avoirdupois_ounce"),
    },
    "voltage": {"V": "volt", "volt": "volt", "volts": "volt", "mV": "millivolt"},
    "current": {"A": "ampere", "amp": "ampere", "amps": "ampere", "mA": "milliampere"},
    "charge": {"Ah": "ampere*hour", "mAh": "milliampere*hour"},
    "electrical resistance": {"Ω": "ohm", "ohm": "ohm", "mΩ": "milliohm", "mohm": "milliohm"},
    "thermal conductivity": {
        **dict.fromkeys(("W/(m·K)", "W/mK", "W/(m K)", "W/m K"), "watt/(meter*kelvin)"),
        **dict.fromkeys(
            ("Btu·in/(h·ft²·°F)", "Btu in/(h ft2 F)"), f"{BTU}*inch/(hour*foot**2*delta_degree_Fahrenheit)"
        ),
    },
    "transmittance": {
        **dict.fromkeys(("W/(m²·K)", "W/m2K", "W/m²K"), "watt/(meter**2*kelvin)"),
        **dict.fromkeys(("Btu/(h·ft²·°F)", "Btu/(h ft2 F)"), f"{BTU}/(hour*foot**2*delta_degree_Fahrenheit)"),
    },
    "heat loss": {"W/K": "watt/kelvin", "W/°F": "watt/delta_degree_Fahrenheit"},
    "angle": {"°": "degree", "deg": "degree", "degrees": "degree", "rad": "radian"},
    "slope": {
        "%": "percent",
        "mm/m": "millimeter/meter",
        "cm/m": "centimeter/meter",
        "in/ft": "inch/foot",
        "": "dimensionless",
    },
    "share": {"%": "percent", "percent": "percent", "": "dimensionless"},
    "ratio": {"": "dimensionless"},
    **dict.fromkeys(("rate", "starts an hour"), RATE),
    "strokes": {
        **dict.fromkeys(("a minute", "/min", "per minute", "times a minute"), "1/minute"),
        **dict.fromkeys(("a second", "/s", "per second"), "1/second"),
    },
    "volume a day": {f"{name}{end}": f"{unit}/day" for name, unit in VOLUME.items() for end in A_DAY},
    "concentration": {
        **dict.fromkeys(("mg/L", "mg/l", "ppm"), "milligram/liter"),
        **dict.fromkeys(("g/L", "g/l"), "gram/liter"),
    },
    "density": {
        **dict.fromkeys(("kg/m³", "kg/m3"), "kilogram/meter**3"),
        **dict.fromkeys(("lb/ft³", "lb/ft3"), "avoirdupois_pound/foot**3"),
    },
    "dynamic viscosity": {
        **dict.fromkeys(("Pa·s", "Pa s"), "pascal*second"),
        **dict.fromkeys(("mPa·s", "mPa s"), "millipascal*second"),
        "cP": "centipoise",
    },
    "specific heat capacity": {
        **dict.fromkeys(("J/(kg·K)", "J/kgK"), "joule/(kilogram*kelvin)"),
        "Btu/(lb·°F)": f"{BTU}/(avoirdupois_pound*delta_degree_Fahrenheit)",
    },
    "latent heat": {
        "kJ/kg": "kilojoule/kilogram",
        "J/kg": "joule/kilogram",
        "Btu/lb": f"{BTU}/avoirdupois_pound",
    },
    "outlet constant": {
        "L/min at 1 bar": "liter/minute/bar**0.5",
        "gal/min at 1 psi": "US_liquid_gallon/minute/pound_force_per_square_inch**0.5",
        "Kv": "meter**3/hour/bar**0.5",
        "Cv": "US_liquid_gallon/minute/pound_force_per_square_inch**0.5",
    },
    "elasticity": {
        **dict.fromkeys(("MPa", "N/mm²", "N/mm2"), "megapascal"),
        "GPa": "gigapascal",
        "Pa": "pascal",
        "psi": "pound_force_per_square_inch",
        "ksi": "kip/inch**2",
    },
    "compliance": {
        **dict.fromkeys(("mL/bar", "ml/bar"), "milliliter/bar"),
        "fl oz/psi": "US_fluid_ounce/pound_force_per_square_inch",
        "m³/Pa": "meter**3/pascal",
    },
    "money": dict.fromkeys(("", "€", "EUR", "$", "USD"), "dimensionless"),  # no rate of exchange is meant
}
SI = {
    "m": "meter",
    "m²": "meter**2",
    "m³": "meter**3",
    "m³/s": "meter**3/second",
    "Pa": "pascal",
    "K": "kelvin",
    "W": "watt",
    "J": "joule",
    "s": "second",
    "m/s": "meter/second",
    "kg": "kilogram",
    "V": "volt",
    "A": "ampere",
    "C": "coulomb",
    "Ω": "ohm",
    "W/(m·K)": "watt/(meter*kelvin)",
    "W/(m²·K)": "watt/(meter**2*kelvin)",
    "W/K": "watt/kelvin",
    "rad": "radian",
    "1": "dimensionless",
    "1/s": "1/second",
    "kg/m³": "kilogram/meter**3",
    "Pa·s": "pascal*second",
    "J/(kg·K)": "joule/(kilogram*kelvin)",
    "J/kg": "joule/kilogram",
    "m³/(s·√Pa)": "meter**3/second/pascal**0.5",
    "m³/Pa": "meter**3/pascal",
}


@cache
def registry() -> pint.UnitRegistry[float]:
    return pint.UnitRegistry()


def _all_spellings() -> Iterator[tuple[Quantity, str]]:
    for quantity in QUANTITIES:
        for spelling in quantity.spellings:
            yield quantity, spelling


@pytest.mark.parametrize("quantity", QUANTITIES, ids=lambda quantity: f"{quantity.name} in {quantity.metric}")
def test_no_spelling_is_left_out_of_the_comparison(quantity: Quantity) -> None:
    assert set(quantity.spellings) == set(MEANING[quantity.name])


def test_the_comparison_names_no_quantity_that_is_gone() -> None:
    assert set(MEANING) == {quantity.name for quantity in QUANTITIES}
    assert set(SI) == {quantity.si for quantity in QUANTITIES}


def _judge(number: float, meaning: str, si: str) -> float:
    """The SI value of a number of a unit, by pint; an expression with a leading factor is taken apart first."""
    factor, star, unit = meaning.partition("*")
    if star and factor.isdigit():
        number, meaning = number * float(factor), unit
    return float(registry().Quantity(number, meaning).to(SI[si]).magnitude)


@over(_all_spellings(), lambda case: f"{case[0].name} in {case[1]}")
def test_factor_and_offset_agree_with_pint(quantity: Quantity, spelling: str) -> None:
    unit = quantity.spellings[spelling]
    for number in (0.0, 1.0, -7.25, 1234.5):
        expected = _judge(number, MEANING[quantity.name][spelling], quantity.si)
        assert unit.to_si(number) == pytest.approx(expected, rel=1e-9, abs=1e-12 * abs(unit.factor))


@pytest.mark.parametrize("quantity", QUANTITIES, ids=lambda quantity: f"{quantity.name} in {quantity.metric}")
def test_display_units_are_spellings_and_the_range_is_sound(quantity: Quantity) -> None:
    assert quantity.metric in quantity.spellings
    assert quantity.us in quantity.spellings
    assert math.isfinite(quantity.low)
    assert math.isfinite(quantity.high)
    assert quantity.low < quantity.high
    assert quantity.low <= quantity.read(quantity.example) <= quantity.high


@pytest.mark.parametrize("quantity", QUANTITIES, ids=lambda quantity: f"{quantity.name} in {quantity.metric}")
def test_spellings_can_be_typed_and_slips_are_no_spellings(quantity: Quantity) -> None:
    for spelling in quantity.spellings:
        assert spelling == " ".join(spelling.split())
        assert not spelling[:1].isdigit()
        middle = float(quantity.spellings[spelling].from_si((quantity.low + quantity.high) / 2))
        assert quantity.read(f"{middle:.12g} {spelling}") == pytest.approx(
            (quantity.low + quantity.high) / 2, rel=1e-9, abs=0
        )
    assert not set(quantity.slips) & set(quantity.spellings)
    assert all(quantity.slips.values())


def test_a_coherent_unit_has_factor_one() -> None:
    for quantity in QUANTITIES:
        if quantity.si in quantity.spellings:
            unit = quantity.spellings[quantity.si]
            assert (unit.factor, unit.offset) == (1.0, 0.0)


def test_constants_are_those_of_sp_811() -> None:
    """NIST SP 811 (2008), Appendix B.8, as printed there."""
    assert pytest.approx(3.048e-1, rel=1e-15) == vocabulary.FOOT
    assert pytest.approx(3.785412e-3, rel=5e-7) == vocabulary.US_GALLON
    assert pytest.approx(4.54609e-3, rel=1e-12) == vocabulary.IMPERIAL_GALLON
    assert pytest.approx(4.535924e-1, rel=5e-7) == vocabulary.POUND
    assert pytest.approx(4.448222, rel=5e-7) == vocabulary.POUND_FORCE
    assert pytest.approx(6.894757e3, rel=5e-7) == vocabulary.PSI
    assert pytest.approx(1.055056e3, rel=5e-7) == vocabulary.BTU


def _rank(name: str) -> tuple[int, str]:
    return (0 if name.isupper() else 1 if name[0].isupper() else 2), name


def test_all_is_sorted_and_complete() -> None:
    names = vocabulary.__all__
    assert names == sorted(names, key=_rank)
    assert len(set(names)) == len(names)
    assert all(hasattr(vocabulary, name) for name in names)
    listed = {id(getattr(vocabulary, name)) for name in names}
    assert all(id(quantity) in listed for quantity in QUANTITIES)
    assert set(names) < set(quantities.__all__)
    assert all(hasattr(quantities, name) for name in quantities.__all__)


def test_every_alias_carries_the_quantity_of_its_name() -> None:
    carried = set()
    for name in vocabulary.__all__:
        if name.isupper():
            continue
        alias = getattr(vocabulary, name)[float]
        base, quantity = typing.get_args(alias)
        assert base is float
        constant = "".join(
            f"_{letter}" if letter.isupper() and at else letter for at, letter in enumerate(name)
        ).upper()
        assert quantity is getattr(vocabulary, constant)
        carried.add(id(quantity))
    assert carried == {id(quantity) for quantity in QUANTITIES}


def test_feet_are_told_in_tenths_and_heights_of_places_in_tens_of_feet() -> None:
    # a rule reads 0.3 m as a foot; 300 m above the sea are no 984 ft; 28.54 ft is nearer to 29 than to 28
    assert (
        vocabulary.LENGTH.text(0.3, True) == "1\N{NO-BREAK SPACE}ft"
        and vocabulary.LENGTH.text(1.4, True) == "4.6\N{NO-BREAK SPACE}ft"
    )
    assert vocabulary.LENGTH.text(28.54 * 0.3048, True, digits=2) == "29\N{NO-BREAK SPACE}ft"
    assert vocabulary.LENGTH.text(0.3, False) == "0.3\N{NO-BREAK SPACE}m"
    assert vocabulary.ALTITUDE.text(300.0, True) == "980\N{NO-BREAK SPACE}ft"
