"""What can hurt somebody, said once and in the same words everywhere."""

from __future__ import annotations

from vanwater.answers.core.answer import Caution

__all__ = [
    "BLEACH",
    "CHLORINATED_WATER",
    "DRINKING_WATER",
    "ESTIMATE",
    "FROST",
    "GREY_WATER",
    "HEATER",
    "LEGIONELLA",
    "MAINS_AND_BATTERY",
    "MAINS_WATER",
    "PAD",
    "SCALD",
    "WEIGHT",
]

ESTIMATE = Caution(
    "estimate",
    "These are estimates, not a design certified by anyone. Local codes and licensed practice decide.",
)
DRINKING_WATER = Caution(
    "drinking water",
    "Tanks, hoses and fittings must be made for drinking water, the filler lockable, the tank dark. Sanitise before "
    "the first use and after standing; in summer a warm tank goes bad within days.",
)
SCALD = Caution(
    "scald",
    "Water as hot as a heater makes it burns skin within seconds, children's sooner. Mix or limit what reaches the "
    "hand.",
    grave=True,
    source="US CPSC publication 5098; Moritz and Henriques (1947)",
    short="Scald: mix or limit what reaches the hand.",
)
HEATER = Caution(
    "heater",
    "Never switch the element on before the heater is full and bled. It needs a relief valve and room for the water "
    "to expand.",
    grave=True,
    short="Heater: fill and bleed it before it is on; fit a relief valve.",
)
LEGIONELLA = Caution(
    "legionella",
    "Water that stands warm breeds legionella. After standing, heat it through and flush every outlet before anybody "
    "breathes its spray.",
)
MAINS_AND_BATTERY = Caution(
    "mains and battery",
    "Inverter, mains and battery wiring is work for qualified people. Lithium batteries must not be charged below "
    "freezing.",
    grave=True,
    short="Wiring by qualified people; no lithium charging below freezing.",
)
MAINS_WATER = Caution(
    "mains water",
    "On a campsite's tap: a hose made for drinking water and flushed first, a regulator, and a check valve against "
    "back-flow. Shut the tap when nobody is there. Local codes decide.",
)
FROST = Caution(
    "frost",
    "Ice bursts what is closed and full: hoses, taps, valves, pump and heater before the tanks. Drain them before "
    "frost whenever the heat may fail, with every tap open.",
)
PAD = Caution(
    "pad",
    "Never switch a heating pad on under an empty tank: it can scorch the wall and set fire. A level or temperature "
    "cut-out keeps it off.",
    grave=True,
    short="Heating pad: never on under an empty tank.",
)
GREY_WATER = Caution("grey water", "Empty grey water and toilets only where it is allowed.")
WEIGHT = Caution(
    "weight",
    "A litre weighs a kilogram. Weigh the van loaded and full on a public scale, axle by axle: what axles and van may "
    "carry is a limit, and local law decides.",
    grave=True,
    short="Weight: weigh the van loaded; axle loads are limits of law.",
)
BLEACH = Caution(
    "bleach",
    "Never mix bleach or granules with acid, descaler, ammonia or each other: the gas poisons. Wear gloves and cover "
    "your eyes, air the van. Take plain bleach without scent or thickener, granules without stabiliser.",
    grave=True,
    short="Bleach: never with acid, descaler, ammonia; gloves, eyes.",
)
CHLORINATED_WATER = Caution(
    "chlorinated water",
    "Take carbon and hollow-fibre filters out before chlorine goes in, and switch heaters off. Nobody drinks before a "
    "strip reads low enough at every tap. Think before it is drained: not into a septic system, a stream or a bed of "
    "plants.",
)
