"""The vocabulary: every quantity of the trade with its units, spellings and believable range.

References
----------
NIST Special Publication 811 (2008), Appendix B: conversion factors, exact by definition unless said. Every
factor is compared with the library pint in ``tests/quantities/test_vocabulary.py``.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from typing import Annotated

from typing_extensions import TypeVar

from vanwater.quantities.quantity import OTHERS, Quantity, Unit

__all__ = [
    "ABSOLUTE_PRESSURE",
    "ALTITUDE",
    "ANGLE",
    "AREA",
    "BORE",
    "BTU",
    "CHARGE",
    "COMPLIANCE",
    "CONCENTRATION",
    "CONDUCTANCE",
    "CONDUCTIVITY",
    "CURRENT",
    "DAILY_ENERGY",
    "DAILY_VOLUME",
    "DAY",
    "DENSITY",
    "DURATION",
    "ELASTICITY",
    "ENERGY",
    "FLOW",
    "FOOT",
    "HEAT_CAPACITY",
    "HOURS",
    "IMPERIAL_GALLON",
    "INCH",
    "LATENT_HEAT",
    "LENGTH",
    "MASS",
    "MONEY",
    "OUTLET_CONSTANT",
    "PLACE",
    "POUND",
    "POUND_FORCE",
    "POWER",
    "PRESSURE",
    "PRESSURE_DIFFERENCE",
    "PSI",
    "QUANTITIES",
    "RANKINE",
    "RATE",
    "RATIO",
    "RESISTANCE",
    "ROAD_SPEED",
    "ROUGHNESS",
    "SECONDS",
    "SECTION",
    "SETTING",
    "SHARE",
    "SLOPE",
    "SPEED",
    "STARTS",
    "STAY",
    "STROKES",
    "TEMPERATURE",
    "TEMPERATURE_DIFFERENCE",
    "THICKNESS",
    "TRANSMITTANCE",
    "US_GALLON",
    "VISCOSITY",
    "VOLTAGE",
    "VOLUME",
    "ZERO_CELSIUS",
    "AbsolutePressure",
    "Altitude",
    "Angle",
    "Area",
    "Bore",
    "Charge",
    "Compliance",
    "Concentration",
    "Conductance",
    "Conductivity",
    "Current",
    "DailyEnergy",
    "DailyVolume",
    "Density",
    "Duration",
    "Elasticity",
    "Energy",
    "Flow",
    "HeatCapacity",
    "Hours",
    "LatentHeat",
    "Length",
    "Mass",
    "Money",
    "OutletConstant",
    "Place",
    "Power",
    "Pressure",
    "PressureDifference",
    "Rate",
    "Ratio",
    "Resistance",
    "RoadSpeed",
    "Roughness",
    "Seconds",
    "Section",
    "Share",
    "Slope",
    "Speed",
    "Starts",
    "Stay",
    "Strokes",
    "Temperature",
    "TemperatureDifference",
    "Thickness",
    "Transmittance",
    "Viscosity",
    "Voltage",
    "Volume",
]

T = TypeVar("T", default=float)


def _units(table: Mapping[str, float]) -> dict[str, Unit]:
    return {name: Unit(factor) for spellings, factor in table.items() for name in spellings.split("|")}


# --- factors, exact by definition unless said; SP 811 App. B -----------------------------------------

INCH = 0.0254
FOOT = 12 * INCH
US_GALLON = 231 * INCH**3
IMPERIAL_GALLON = 4.54609e-3
POUND = 0.45359237
POUND_FORCE = POUND * 9.80665
PSI = POUND_FORCE / INCH**2
BTU = 1055.05585262  # International Table Btu
RANKINE = 5 / 9
ZERO_CELSIUS = 273.15
DAY = 86400.0

_LENGTH = _units(
    {
        "m|metre|meter": 1.0,
        "cm": 0.01,
        "mm": 1e-3,
        "µm|um|micron": 1e-6,
        'in|inch|inches|"|″|”': INCH,
        "ft|foot|feet|'|′|’": FOOT,
    }
)
_VOLUME = _units(
    {
        "L|l|litre|litres|liter|liters": 1e-3,
        "mL|ml": 1e-6,
        "cl|cL": 1e-5,
        "m³|m3|m^3": 1.0,
        "ft³|ft3|ft^3|cu ft|cubic feet": FOOT**3,
        "in³|in3|in^3|cu in": INCH**3,
        "gal|gals|gallon|gallons|US gal|us gal|US gallon|US gallons": US_GALLON,
        "imp gal|UK gal|imp gallon|imp gallons|imperial gallon|imperial gallons": IMPERIAL_GALLON,
        "qt|US qt|quart|quarts": US_GALLON / 4,
        "pt|US pt|pint|pints": US_GALLON / 8,
        "fl oz|US fl oz": US_GALLON / 128,
        "cup|US cup|cups": US_GALLON / 16,
    }
)
_FLOW = _units(
    {
        "L/min|l/min|lpm|LPM|L/minute": 1e-3 / 60,
        "L/s|l/s": 1e-3,
        "L/h|l/h|lph": 1e-3 / 3600,
        "mL/min|ml/min": 1e-6 / 60,
        "m³/h|m3/h": 1 / 3600,
        "m³/s|m3/s": 1.0,
        "gal/min|gpm|GPM|US gal/min|US gpm|gallon/min|gallons/min|gallons a minute|gallons per minute": US_GALLON / 60,
        "gal/h|gph|GPH|gallons/h": US_GALLON / 3600,
        "imp gal/min|imp gpm": IMPERIAL_GALLON / 60,
    }
)
_PRESSURE = _units(
    {
        "bar": 1e5,
        "mbar": 100.0,
        "Pa": 1.0,
        "hPa": 100.0,
        "kPa": 1e3,
        "MPa": 1e6,
        "psi": PSI,
        "m H2O|mH2O|mWS": 9806.65,
        "ft H2O|ftH2O": 9806.65 * FOOT,
        "in Hg|inHg": 3386.388640341,
    }
)
_ENERGY = _units({"Wh": 3600.0, "kWh": 3.6e6, "J": 1.0, "kJ": 1e3, "MJ": 1e6, "Btu|BTU": BTU})
_TIME = _units(
    {
        "s|sec|second|seconds": 1.0,
        "min|minute|minutes": 60.0,
        "h|hr|hour|hours": 3600.0,
        "d|day|days": DAY,
        "week|weeks": 7 * DAY,
    }
)

_TENTHS = (1.0, 0.1)
"""Whole ones from ten on, tenths below: what a public scale and a van's tank gauge tell."""

LENGTH = Quantity("length", "m", "m", "ft", -20.0, 50.0, _LENGTH, "1.2 m", us_example="4 ft", steps={"ft": (0.01, 0.1)})
ALTITUDE = replace(
    LENGTH, name="altitude", low=-430.0, high=6000.0, example="800 m", steps={"m": (1.0, 1.0), "ft": (10.0, 1.0)}
)
PLACE = replace(LENGTH, name="place", us="in", us_example="47 in", steps={"m": (0.01, 0.01), "in": (1.0, 0.5)})
BORE = Quantity("bore", "m", "mm", "in", 1e-3, 0.15, _LENGTH, "10 mm", us_example="3/8 in", fractions={"in": 16})
THICKNESS = Quantity("thickness", "m", "mm", "in", 0.0, 1.0, _LENGTH, "20 mm", us_example="3/4 in", fractions={"in": 8})
ROUGHNESS = Quantity("roughness", "m", "µm", "µm", 0.0, 5e-3, _LENGTH, "1.5 µm")
AREA = Quantity("area", "m²", "m²", "ft²", 0.0, 100.0, _units({"m²|m2": 1.0, "cm²|cm2": 1e-4, "mm²|mm2": 1e-6, "in²|in2|sq in": INCH**2, "ft²|ft2|ft^2|sq ft": FOOT**2}), "0.5 m²")  # fmt: skip
SECTION = replace(AREA, name="cross-section", metric="mm²", us="mm²", low=0.0, high=1e-3, example="6 mm²")
VOLUME = Quantity("volume", "m³", "L", "gal", 0.0, 5.0, _VOLUME, "75 L", smaller={"L": ("mL", 0.1), "gal": ("fl oz", 0.3)})  # fmt: skip
FLOW = Quantity("flow", "m³/s", "L/min", "gal/min", 0.0, 0.01, _FLOW, "11 L/min", {"L": 'Did you mean "L/min"?', "gal": 'Did you mean "gal/min"?'})  # fmt: skip
PRESSURE = Quantity("pressure", "Pa", "bar", "psi", -1.1e5, 2e6, _PRESSURE, "2.4 bar", {"psia": 'Gauge is meant: write "psi" above the atmosphere.', "psig": 'Write "psi"; gauge is meant.', "Bar": 'Did you mean "bar"?', "atm": 'Write "bar" above the atmosphere.'}, nothing=1.0)  # fmt: skip
SETTING = replace(PRESSURE, steps={"bar": (0.05, 0.05), "psi": (1.0, 1.0)})
ABSOLUTE_PRESSURE = Quantity("absolute pressure", "Pa", "bar", "psi", 0.0, 3e6, _PRESSURE, "1.01 bar")
PRESSURE_DIFFERENCE = Quantity("pressure difference", "Pa", "bar", "psi", -2e6, 2e6, _PRESSURE, "0.3 bar", nothing=1.0)  # fmt: skip
TEMPERATURE = Quantity("temperature", "K", "°C", "°F", 203.15, 403.15, {"°C": Unit(1.0, ZERO_CELSIUS), "degC": Unit(1.0, ZERO_CELSIUS), "℃": Unit(1.0, ZERO_CELSIUS), "°F": Unit(RANKINE, ZERO_CELSIUS - 32 * RANKINE), "degF": Unit(RANKINE, ZERO_CELSIUS - 32 * RANKINE), "℉": Unit(RANKINE, ZERO_CELSIUS - 32 * RANKINE), "K": Unit(1.0)}, "38 °C", {"C": 'Did you mean "°C"? A bare C is coulomb.', "F": 'Did you mean "°F"? A bare F is farad.', "c": 'Did you mean "°C"?', "f": 'Did you mean "°F"?', "°": "Write °C or °F."}, places=0, lowest_told=ZERO_CELSIUS - 60.0)  # fmt: skip
TEMPERATURE_DIFFERENCE = Quantity("temperature difference", "K", "K", "°F", 0.0, 150.0, {"K": Unit(1.0), "°C": Unit(1.0), "°F": Unit(RANKINE), "F°": Unit(RANKINE), "Δ°F": Unit(RANKINE), "ΔK": Unit(1.0)}, "4 K", {"C": 'Did you mean "K"?', "F": 'Did you mean "°F"?'})  # fmt: skip
POWER = Quantity("power", "W", "W", "W", 0.0, 3e4, _units({"W|watt|watts": 1.0, "kW": 1e3, "Btu/h|BTU/h": BTU / 3600, "hp": 550 * FOOT * POUND_FORCE}), "1300 W")  # fmt: skip
ENERGY = Quantity("energy", "J", "Wh", "Wh", 0.0, 1e9, _ENERGY, "640 Wh")
DAILY_ENERGY = Quantity("energy a day", "W", "Wh/day", "Wh/day", -1e4, 1e4, {f"{name}{ending}": Unit(unit.factor / DAY) for name, unit in _ENERGY.items() for ending in ("/day", "/d", " a day")}, "640 Wh/day", {"Wh": 'Did you mean "Wh/day"?', "kWh": 'Did you mean "kWh/day"?', **dict.fromkeys(("W", "kW"), 'That is a power. Multiply it by its hours a day: 300 W for 4 h are "1200 Wh/day".')})  # fmt: skip
DURATION = Quantity("duration", "s", "min", "min", 0.0, 400 * DAY, _TIME, "5 min")
SECONDS = replace(DURATION, metric="s", us="s", example="20 s")
HOURS = replace(DURATION, metric="h", us="h", example="3 h")
STAY = Quantity("stay", "s", "days", "days", 0.0, 400 * DAY, _TIME, "4 days", steps={"days": _TENTHS})
SPEED = Quantity("speed", "m/s", "m/s", "ft/s", 0.0, 100.0, _units({"m/s": 1.0, "km/h|kph": 1 / 3.6, "mph": 5280 * FOOT / 3600, "ft/s": FOOT}), "1.5 m/s")  # fmt: skip
ROAD_SPEED = replace(SPEED, name="road speed", metric="km/h", us="mph", example="90 km/h")
MASS = Quantity("mass", "kg", "kg", "lb", 0.0, 2e4, _units({"kg": 1.0, "g": 1e-3, "t": 1e3, "lb|lbs|pound|pounds": POUND, "oz|ounce|ounces": POUND / 16}), "2.4 kg", steps={"kg": _TENTHS, "lb": _TENTHS})  # fmt: skip
VOLTAGE = Quantity("voltage", "V", "V", "V", 0.0, 1000.0, _units({"V|volt|volts": 1.0, "mV": 1e-3}), "12.8 V")
CURRENT = Quantity("current", "A", "A", "A", 0.0, 1000.0, _units({"A|amp|amps": 1.0, "mA": 1e-3}), "7 A", {"Ah": "Ah is a charge, not a current; write A."})  # fmt: skip
CHARGE = Quantity("charge", "C", "Ah", "Ah", 0.0, 2000 * 3600.0, _units({"Ah": 3600.0, "mAh": 3.6}), "200 Ah", {"A": 'Did you mean "Ah"?', "C": 'Write "Ah".'})  # fmt: skip
RESISTANCE = Quantity("electrical resistance", "Ω", "mΩ", "mΩ", 0.0, 100.0, _units({"Ω|ohm": 1.0, "mΩ|mohm": 1e-3}), "20 mΩ")  # fmt: skip
CONDUCTIVITY = Quantity("thermal conductivity", "W/(m·K)", "W/(m·K)", "Btu·in/(h·ft²·°F)", 1e-3, 500.0, _units({"W/(m·K)|W/mK|W/(m K)|W/m K": 1.0, "Btu·in/(h·ft²·°F)|Btu in/(h ft2 F)": BTU * INCH / (3600 * FOOT**2 * RANKINE)}), "0.036 W/mK")  # fmt: skip
TRANSMITTANCE = Quantity("transmittance", "W/(m²·K)", "W/(m²·K)", "Btu/(h·ft²·°F)", 0.0, 1e4, _units({"W/(m²·K)|W/m2K|W/m²K": 1.0, "Btu/(h·ft²·°F)|Btu/(h ft2 F)": BTU / (3600 * FOOT**2 * RANKINE)}), "1.5 W/m2K")  # fmt: skip
CONDUCTANCE = Quantity(
    "heat loss", "W/K", "W/K", "W/°F", 0.0, 1e4, _units({"W/K": 1.0, "W/°F": 1 / RANKINE}), "1.8 W/K"
)
ANGLE = Quantity("angle", "rad", "°", "°", -math.pi, math.pi, _units({"°|deg|degrees": math.pi / 180, "rad": 1.0}), "3°")  # fmt: skip
SLOPE = Quantity("slope", "1", "%", "in/ft", 0.0, 1.0, _units({"%": 0.01, "mm/m": 1e-3, "cm/m": 1e-2, "in/ft": 1 / 12, "": 1.0}), "2 %")  # fmt: skip
SHARE = Quantity("share", "1", "%", "%", 0.0, 1.0, _units({"%": 0.01, "percent": 0.01, "": 1.0}), "85 %")
RATIO = Quantity("ratio", "1", "", "", 0.0, 1e6, _units({"": 1.0}), "1.2")
RATE = Quantity("rate", "1/s", "a day", "a day", 0.0, 1000 / DAY, _units({"a day|/day|/d|per day|times a day|x a day": 1 / DAY, "a week|/week|per week|times a week": 1 / (7 * DAY), "an hour|/h|per hour": 1 / 3600}), "2 a day")  # fmt: skip
STARTS = replace(RATE, name="starts an hour", metric="an hour", us="an hour", high=1e3, example="60 an hour")
STROKES = replace(STARTS, name="strokes", metric="a minute", us="a minute", high=5.0, spellings=_units({"a minute|/min|per minute|times a minute": 1 / 60, "a second|/s|per second": 1.0}), example="40 a minute")  # fmt: skip
DAILY_VOLUME = Quantity("volume a day", "m³/s", "L/day", "gal/day", 0.0, 5.0 / DAY, {f"{name}{ending}": Unit(unit.factor / DAY) for name, unit in _VOLUME.items() for ending in ("/day", "/d", " a day")}, "12 L/day", {"L": 'Did you mean "L/day"?'})  # fmt: skip
CONCENTRATION = Quantity("concentration", "kg/m³", "mg/L", "mg/L", 0.0, 1000.0, _units({"mg/L|mg/l|ppm": 1e-3, "g/L|g/l": 1.0}), "50 mg/L")  # fmt: skip
DENSITY = Quantity("density", "kg/m³", "kg/m³", "lb/ft³", 0.0, 3e4, _units({"kg/m³|kg/m3": 1.0, "lb/ft³|lb/ft3": POUND / FOOT**3}), "998 kg/m3")  # fmt: skip
VISCOSITY = Quantity("dynamic viscosity", "Pa·s", "mPa·s", "mPa·s", 0.0, 10.0, _units({"Pa·s|Pa s": 1.0, "mPa·s|mPa s|cP": 1e-3}), "1.0 mPa s")  # fmt: skip
HEAT_CAPACITY = Quantity("specific heat capacity", "J/(kg·K)", "J/(kg·K)", "Btu/(lb·°F)", 0.0, 1e4, _units({"J/(kg·K)|J/kgK": 1.0, "Btu/(lb·°F)": BTU / (POUND * RANKINE)}), "4186 J/kgK")  # fmt: skip
LATENT_HEAT = Quantity("latent heat", "J/kg", "kJ/kg", "Btu/lb", 0.0, 1e7, _units({"kJ/kg": 1e3, "J/kg": 1.0, "Btu/lb": BTU / POUND}), "334 kJ/kg")  # fmt: skip
OUTLET_CONSTANT = Quantity("outlet constant", "m³/(s·√Pa)", "L/min at 1 bar", "gal/min at 1 psi", 0.0, 1e-4, _units({"L/min at 1 bar": 1e-3 / 60 / math.sqrt(1e5), "gal/min at 1 psi": US_GALLON / 60 / math.sqrt(PSI), "Kv": 1 / 3600 / math.sqrt(1e5), "Cv": US_GALLON / 60 / math.sqrt(PSI)}), "6 L/min at 1 bar")  # fmt: skip
ELASTICITY = Quantity("elasticity", "Pa", "MPa", "psi", 1e5, 5e11, _units({"MPa|N/mm²|N/mm2": 1e6, "GPa": 1e9, "Pa": 1.0, "psi": PSI, "ksi": 1e3 * PSI}), "600 MPa")  # fmt: skip
COMPLIANCE = Quantity("compliance", "m³/Pa", "mL/bar", "fl oz/psi", 0.0, 1e-7, _units({"mL/bar|ml/bar": 1e-11, "fl oz/psi": US_GALLON / 128 / PSI, "m³/Pa": 1.0}), "6 mL/bar")  # fmt: skip
MONEY = Quantity("money", "1", "", "", 0.0, 1e6, _units({"": 1.0, "€": 1.0, "EUR": 1.0, "$": 1.0, "USD": 1.0}), "120 EUR")  # fmt: skip

QUANTITIES: tuple[Quantity, ...] = (
    LENGTH,
    ALTITUDE, PLACE, BORE, THICKNESS, ROUGHNESS, AREA, SECTION, VOLUME, FLOW, PRESSURE, ABSOLUTE_PRESSURE, PRESSURE_DIFFERENCE,
    TEMPERATURE, TEMPERATURE_DIFFERENCE, POWER, ENERGY, DAILY_ENERGY, DURATION, SECONDS, HOURS, STAY, SPEED,
    ROAD_SPEED, MASS, VOLTAGE, CURRENT, CHARGE, RESISTANCE, CONDUCTIVITY, TRANSMITTANCE, CONDUCTANCE, ANGLE,
    SLOPE, SHARE, RATIO, RATE, STARTS, STROKES, DAILY_VOLUME, CONCENTRATION, DENSITY, VISCOSITY, HEAT_CAPACITY,
    LATENT_HEAT, OUTLET_CONSTANT, ELASTICITY, COMPLIANCE, MONEY,
)  # fmt: skip

for _quantity in QUANTITIES:
    for _unit in _quantity.spellings:
        OTHERS.setdefault(_unit, []).append(_quantity.name)

Length = Annotated[T, LENGTH]
Altitude = Annotated[T, ALTITUDE]
Place = Annotated[T, PLACE]
Bore = Annotated[T, BORE]
Thickness = Annotated[T, THICKNESS]
Roughness = Annotated[T, ROUGHNESS]
Area = Annotated[T, AREA]
Section = Annotated[T, SECTION]
Volume = Annotated[T, VOLUME]
Flow = Annotated[T, FLOW]
Pressure = Annotated[T, PRESSURE]
AbsolutePressure = Annotated[T, ABSOLUTE_PRESSURE]
PressureDifference = Annotated[T, PRESSURE_DIFFERENCE]
Temperature = Annotated[T, TEMPERATURE]
TemperatureDifference = Annotated[T, TEMPERATURE_DIFFERENCE]
Power = Annotated[T, POWER]
Energy = Annotated[T, ENERGY]
DailyEnergy = Annotated[T, DAILY_ENERGY]
Duration = Annotated[T, DURATION]
Seconds = Annotated[T, SECONDS]
Hours = Annotated[T, HOURS]
Stay = Annotated[T, STAY]
Speed = Annotated[T, SPEED]
RoadSpeed = Annotated[T, ROAD_SPEED]
Mass = Annotated[T, MASS]
Voltage = Annotated[T, VOLTAGE]
Current = Annotated[T, CURRENT]
Charge = Annotated[T, CHARGE]
Resistance = Annotated[T, RESISTANCE]
Conductivity = Annotated[T, CONDUCTIVITY]
Transmittance = Annotated[T, TRANSMITTANCE]
Conductance = Annotated[T, CONDUCTANCE]
Angle = Annotated[T, ANGLE]
Slope = Annotated[T, SLOPE]
Share = Annotated[T, SHARE]
Ratio = Annotated[T, RATIO]
Rate = Annotated[T, RATE]
Starts = Annotated[T, STARTS]
Strokes = Annotated[T, STROKES]
DailyVolume = Annotated[T, DAILY_VOLUME]
Concentration = Annotated[T, CONCENTRATION]
Density = Annotated[T, DENSITY]
Viscosity = Annotated[T, VISCOSITY]
HeatCapacity = Annotated[T, HEAT_CAPACITY]
LatentHeat = Annotated[T, LATENT_HEAT]
OutletConstant = Annotated[T, OUTLET_CONSTANT]
Elasticity = Annotated[T, ELASTICITY]
Compliance = Annotated[T, COMPLIANCE]
Money = Annotated[T, MONEY]
