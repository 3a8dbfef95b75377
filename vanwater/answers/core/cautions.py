"""What can hurt somebody, said once and in the same words everywhere, with what in a plan raises it.

None of them replaces local codes and licensed practice. Standards are named from memory unless said otherwise.
"""

from __future__ import annotations

from vanwater.answers.core.answer import Caution
from vanwater.answers.core.harm import Harm
from vanwater.answers.core.raised import doubtful_hose, filtered, freezing, heated_by, holding, scalding, under_floor
from vanwater.answers.core.statement import Amount, say
from vanwater.quantities import TEMPERATURE
from vanwater.system.power import lives_on_battery

__all__ = [
    "AIR_GAP",
    "ANTIFREEZE",
    "BLEACH",
    "BLOW_OUT",
    "CHLORINATED_WATER",
    "COOLANT",
    "DIESEL",
    "DRAINED",
    "DRILLING",
    "DRINKING_WATER",
    "ELEMENT",
    "ESTIMATE",
    "FILTER",
    "FROST",
    "FROZEN_FILTER",
    "GAS",
    "GREY_WATER",
    "HOSE",
    "LEGIONELLA",
    "LITHIUM",
    "MAINS_WATER",
    "PAD",
    "RELIEF",
    "SCALD",
    "SHOCK",
    "STRAPS",
    "TOILET",
    "UNDER_FLOOR",
    "WEIGHT",
    "WIRING",
]

ESTIMATE = Caution(
    "estimate",
    "These are estimates, not a design certified by anyone. Local codes and licensed practice decide.",
    short="Estimates alone: local codes and licensed practice decide.",
    harm=Harm.DUTY,
)
GAS = Caution(
    "gas heat",
    "Burning gas makes carbon monoxide, which kills unseen: a room-sealed burner with its own flue, clear of windows, "
    "door and step, and a CO alarm to EN 50291-2 where people sleep. Have the line fitted and tested for tightness by "
    "licensed people, and shut the bottle on the road as the local code says.",
    grave=True,
    source="EN 1949, EN 50291-2, NFPA 1192; from memory",
    short="Gas: sealed flue, CO alarm, tightness by licensed people.",
    harm=Harm.LIFE,
    raised=heated_by("gas"),
)
DIESEL = Caution(
    "diesel heat",
    "The exhaust of a fuel heater kills: lead it outside by tight joints, clear of windows, door, step and air inlets; "
    "a CO alarm to EN 50291-2 where people sleep. Body and exhaust stay hot after it is off: keep hoses, cables and "
    "wood away. Its fuel line must be made for that fuel and tapped as its maker says.",
    grave=True,
    source="UN Regulation 122, EN 50291-2; from memory",
    short="Fuel heater: exhaust outside, CO alarm; keep off its hot parts.",
    harm=Harm.LIFE,
    raised=heated_by("diesel"),
)
ELEMENT = Caution(
    "element",
    "Never switch the element on before the heater is full and bled: dry it burns out and can set fire. A thermostat "
    "can stick, so it needs a second cut-out that does not reset by itself.",
    grave=True,
    source="IEC 60335-2-21, from memory",
    short="Element: fill and bleed first; a second cut-out that stays off.",
    harm=Harm.LIFE,
    raised=heated_by("inverter", "battery", "shore"),
)
SHOCK = Caution(
    "shock",
    "An element at mains voltage stands in the water of the shower: it needs an earth, and before it an RCD of at most "
    "30 mA or a GFCI. Behind an inverter that trips only if the inverter's neutral is bonded to earth, and that bond "
    "must open on shore power. Test it by its button.",
    grave=True,
    source="IEC 60364-7-721, NEC article 551; from memory",
    short="Mains element: an earth, and an RCD or GFCI that can trip.",
    harm=Harm.LIFE,
    raised=heated_by("inverter", "shore"),
)
DRAINED = Caution(
    "drained heater",
    "The water is drained: keep heater and pads off, their fuse or gas valve shut and a note on the switch. Dry, an "
    "element burns out and a pad can set fire. Fill and bleed the heater before it is switched on again.",
    grave=True,
    source="IEC 60335-2-21, from memory; common practice",
    short="Drained: heater and pads off; fill before switching on.",
    harm=Harm.LIFE,
    raised=lambda plan: plan.water.drained and bool(plan.heaters or plan.pads),
)
RELIEF = Caution(
    "relief valve",
    "Never plug the heater's relief valve, put a shut-off before or behind it, or set it higher. Lead its drip "
    "downhill to the outside, where it scalds nobody and cannot freeze shut, and open it by hand now and then. Heated "
    "water needs room to expand.",
    grave=True,
    source="EN 1487, EN 1488, ANSI Z21.22; from memory",
    short="Relief valve: never plug or shut it; its drip must not freeze.",
    harm=Harm.LIFE,
    raised=lambda plan: bool(plan.heaters),
)
WIRING = Caution(
    "wiring",
    "Every cable needs a fuse at the battery's end, sized for the cable, whatever it feeds: a bare one can start a "
    "fire. Inverter, mains and battery wiring is work for qualified people.",
    grave=True,
    source="EN 1648-1, EN 1648-2, IEC 60364-7-721, NEC article 551; from memory",
    short="Wiring: a fuse at the battery for each cable; qualified people.",
    harm=Harm.LIFE,
    raised=lives_on_battery,
)
PAD = Caution(
    "pad",
    "Never switch a heating pad on under an empty tank: it can scorch the wall and set fire. A level switch keeps it "
    "off; a temperature cut-out only ends it once the wall is hot.",
    grave=True,
    short="Heating pad: never on under an empty tank.",
    harm=Harm.LIFE,
    raised=lambda plan: bool(plan.pads),
)
WEIGHT = Caution(
    "weight",
    "Water is heavy. Weigh the van loaded and full on a public scale, axle by axle: what axles and van may carry is a "
    "limit, and local law decides.",
    grave=True,
    source="permitted masses: Regulation (EU) 2021/535, 49 CFR part 567; from memory",
    short="Weight: weigh the van loaded; axle loads are limits of law.",
    harm=Harm.LIFE,
    raised=lambda plan: bool(plan.tanks or plan.vehicle),
)
STRAPS = Caution(
    "straps",
    "In a crash a full tank pulls with many times its weight: hold tanks and heater by straps or brackets that are "
    "bolted through floor or frame over large plates, or behind a bulkhead, never by hoses or wood screws.",
    grave=True,
    source="ISO 27956 on securing loads in vans, from memory",
    short="Full tanks: straps or brackets that hold in a crash.",
    harm=Harm.LIFE,
    raised=lambda plan: bool(plan.tanks or plan.heaters),
)
BLOW_OUT = Caution(
    "blow-out",
    "Where lines are blown out for the winter: a regulator set below what the weakest piece stands, taps and drains "
    "open, never into a closed tank or heater, eyes covered.",
    short="Blow-out: below the weakest piece, never into a closed tank.",
    harm=Harm.LIFE,
    raised=lambda plan: freezing(plan) and bool(plan.runs),
)
SCALD = Caution(
    "scald",
    "Water as hot as a heater makes it burns skin within seconds to minutes, children's and old people's sooner. Mix "
    "or limit what reaches the hand, by a valve that shuts when the cold water fails.",
    grave=True,
    source="US CPSC publication 5098; Moritz and Henriques (1947); EN 1111, EN 1287, ASSE 1016, from memory",
    short="Scald: mix or limit what reaches the hand.",
    harm=Harm.INJURY,
    raised=scalding,
)
COOLANT = Caution(
    "engine heat",
    say(
        "Engine coolant comes at up to {hot}, and so does the water that it heats: a thermostatic valve before every "
        "tap. Coolant poisons: an exchanger with a double wall, or a coolant that is harmless in drinking water. Open "
        "the circuit only when it is cold.",
        hot=Amount(368.15, TEMPERATURE, 2),
    ),
    grave=True,
    source="EN 15092, ASSE 1070, EN 1717; from memory",
    short="Engine heat: mixing valve; double wall or harmless coolant.",
    harm=Harm.INJURY,
    raised=heated_by("engine"),
)
BLEACH = Caution(
    "bleach",
    "Never mix bleach or granules with acid, descaler, ammonia or each other: the gas poisons. Wear gloves and cover "
    "your eyes, air the van. Take plain bleach without scent or thickener, granules without stabiliser.",
    grave=True,
    source="EN 901, NSF/ANSI/CAN 60; from memory",
    short="Bleach: never with acid, descaler, ammonia; gloves, eyes.",
    harm=Harm.INJURY,
    raised=holding("fresh"),
)
FROZEN_FILTER = Caution(
    "frozen filter",
    "Frost breaks the fibres of a hollow-fibre filter, and ceramic, unseen: afterwards germs pass. Take filters out "
    "before frost; renew one that was frozen.",
    grave=True,
    short="Filter: once frozen it lets germs pass unseen; renew it.",
    harm=Harm.INJURY,
    raised=lambda plan: freezing(plan) and filtered(plan),
)
ANTIFREEZE = Caution(
    "antifreeze",
    "Where lines are filled for the winter: only propylene glycol made for drinking-water lines, never ethylene glycol "
    "from the engine, which poisons. Flush every tap before anybody drinks.",
    source="common practice; drinking-water additives, NSF/ANSI/CAN 60, from memory",
    short="Antifreeze: propylene glycol for drinking water, no ethylene.",
    harm=Harm.INJURY,
    raised=freezing,
)
HOSE = Caution(
    "hose",
    "PVC hose and polyamide tube are mostly not made for drinking water: take one that is printed with a "
    "drinking-water approval, and rinse it before use.",
    source="Directive (EU) 2020/2184, NSF/ANSI/CAN 61; from memory",
    short="Hose: most of this kind is not made for drinking water.",
    harm=Harm.INJURY,
    raised=doubtful_hose,
)
DRINKING_WATER = Caution(
    "drinking water",
    "Tanks, hoses and fittings must be made for drinking water, the filler lockable, the tank dark. Sanitise before "
    "the first use and after standing; in summer a warm tank goes bad within days.",
    source="Directive (EU) 2020/2184, NSF/ANSI/CAN 61; from memory",
    short="Drinking water: pieces made for it; sanitise before use.",
    harm=Harm.INJURY,
    raised=holding("fresh"),
)
AIR_GAP = Caution(
    "air gap",
    "Fill through an air gap: the hose ends above the filler's rim, never inside the tank, in waste or in a bucket. If "
    "the pipe loses pressure, it sucks back what the hose's end stands in.",
    source="EN 1717, air gaps AA and AB; ASSE 1011, hose vacuum breakers; from memory",
    short="Air gap: the filling hose never ends inside tank or waste.",
    harm=Harm.INJURY,
    raised=holding("fresh"),
)
LEGIONELLA = Caution(
    "legionella",
    "Water that stands warm breeds legionella. After standing, heat it through and flush every outlet before anybody "
    "breathes its spray. Rules on how hot water is stored differ from country to country.",
    source="WHO (2007), Legionella and the prevention of legionellosis; from memory",
    short="Legionella: after standing, heat through and flush.",
    harm=Harm.INJURY,
    raised=lambda plan: bool(plan.heaters),
)
TOILET = Caution(
    "toilet",
    "Toilet and drinking water share no hose, bucket or cloth. Wash your hands after emptying, close cassette or "
    "container for the road and vent it to the outside.",
    source="WHO (2018), Guidelines on sanitation and health; from memory",
    short="Toilet: no hose, bucket or cloth shared with drinking water.",
    harm=Harm.INJURY,
    raised=holding("urine", "cassette"),
)
CHLORINATED_WATER = Caution(
    "chlorinated water",
    "Take carbon and hollow-fibre filters out before chlorine goes in, and switch heaters off. Nobody drinks before a "
    "strip reads low enough at every tap. Think before it is drained: not into a septic system, a stream or a bed of "
    "plants.",
    source="AWWA C652, from memory; common practice",
    short="Chlorinated water: nobody drinks before the strip reads low.",
    harm=Harm.INJURY,
    raised=holding("fresh"),
)
MAINS_WATER = Caution(
    "mains water",
    "On a campsite's tap: a hose made for drinking water and flushed first, a regulator, and a check valve against "
    "back-flow. Shut the tap when nobody is there. Local codes decide.",
    source="EN 1717, NFPA 1192; from memory",
    short="Campsite water: regulator, check valve; shut it when away.",
    harm=Harm.INJURY,
    raised=lambda plan: bool(plan.mains),
)
LITHIUM = Caution(
    "battery in frost",
    "Lithium batteries must not be charged below freezing; empty lead ones burst in frost.",
    source="IEC 62619 and cell makers' data, from memory",
    short="Battery: no lithium charging below freezing.",
    harm=Harm.DAMAGE,
    raised=lambda plan: plan.battery is not None,
)
FROST = Caution(
    "frost",
    "Ice bursts what is closed and full: hoses, taps, valves, pump and heater before the tanks. Drain them before "
    "frost whenever the heat may fail, with every tap open.",
    short="Frost: drain what is closed and full before it freezes.",
    harm=Harm.DAMAGE,
    raised=freezing,
)
DRILLING = Caution(
    "drilling",
    "Before drilling look at the other side: fuel and brake lines, cables, frame and fuel tank lie behind the floor. "
    "Paint the bare metal and seal the hole.",
    short="Drilling: look for fuel, brakes and cables behind the floor.",
    harm=Harm.DAMAGE,
    raised=under_floor,
)
UNDER_FLOOR = Caution(
    "under the floor",
    "What hangs under the floor meets stones, ramps and the water of a ford: guard tanks, valves and hoses, keep them "
    "above the lowest part of the axle, clear of exhaust and moving parts.",
    short="Under the floor: guard it from stones, ramps and fords.",
    harm=Harm.DAMAGE,
    raised=under_floor,
)
GREY_WATER = Caution(
    "grey water",
    "Empty grey water and toilets only where it is allowed.",
    short="Grey water, toilet: empty only where allowed.",
    harm=Harm.DUTY,
    raised=holding("grey", "urine", "cassette"),
)
FILTER = Caution(
    "filter",
    "Change a filter's cartridge when its maker says, by volume or by date: an old one chokes, and germs grow in it.",
    short="Filter: change it when its maker says.",
    harm=Harm.CARE,
    raised=filtered,
)
