"""A fleet of sound vans, as a good builder would write them: each measure is chosen by a sum made here by hand."""

from __future__ import annotations

import copy
import csv
import random
from dataclasses import dataclass, field
from itertools import pairwise
from math import exp
from typing import Any, TypeAlias

from tests.examples import PLANS
from vanwater.plan.model import Plan

__all__ = ["Van", "air", "axles", "litres", "sound_van", "worked_flow"]

Raw: TypeAlias = dict[str, Any]

BAR, ROOM = 1e5, 293.15
COLD_HOSES = {
    "metric": {"pvc hose 10 mm": 10.0, "pvc hose 12 mm": 12.0, "pvc hose 12.5 mm": 12.5, "pvc hose 13 mm": 13.0},
    "us": {"pvc hose 12.5 mm": 12.5, "pex 1/2 in": 12.07, "pvc hose 10 mm": 10.0},
}
HOT_PIPES = {"metric": ("pex 16 mm", "pex 15 mm", "pex 16 x 2 mm"), "us": ("pex 1/2 in", "pex 5/8 in")}
ELBOWS = {"pvc": "barb elbow", "pex": "press elbow", "us": "plastic crimp elbow"}


@dataclass(frozen=True)
class Van:
    """A sound van: its tables and what its builder reckoned with, in SI but where its name says otherwise."""

    raw: Raw
    facts: dict[str, Any] = field(default_factory=dict)

    def plan(self, changes: Raw | None = None) -> Plan:
        """Its plan, with other values; None takes one out."""
        raw = copy.deepcopy(self.raw)
        for address, value in (changes or {}).items():
            *way, last = address.split(".")
            part = raw
            for name in way:
                part = part.setdefault(name, {})
            part.pop(last, None)
            if value is not None:
                part[last] = value
        return Plan.of(raw, file=True)


class _Text:
    """Values as the builder writes them."""

    def __init__(self, us: bool) -> None:
        self.us = us

    def _said(self, value: float, unit: str, factor: float, other: str) -> str:
        return f"{value * factor:.6g} {other}" if self.us else f"{value:.6g} {unit}"

    def length(self, metres: float) -> str:
        return self._said(metres, "m", 1 / 0.0254, "in")

    def altitude(self, metres: float) -> str:
        return self._said(metres, "m", 1 / 0.3048, "ft")

    def pressure(self, bar: float) -> str:
        return self._said(bar, "bar", 14.503774, "psi")

    def flow(self, litres: float) -> str:
        return self._said(litres, "L/min", 1 / 3.785412, "gal/min")

    def volume(self, litres: float) -> str:
        return self._said(litres, "L", 1 / 3.785412, "gal")

    def mass(self, kilos: float) -> str:
        return self._said(kilos, "kg", 1 / 0.45359237, "lb")

    def warmth(self, celsius: float) -> str:
        return f"{celsius * 1.8 + 32:.5g} °F" if self.us else f"{celsius:.5g} °C"


def air(altitude: float) -> float:
    """Pressure of the air by the barometric formula for air of 8 °C, bar: within 1 % of the standard below 3 km."""
    return 1.01325 * exp(-9.81 * 0.02896 * altitude / (8.314 * 281.0))


def litres(habits: str, people: int, cold: float) -> dict[str, float]:
    """What a household draws, spoils, adds to a urine container and wants warm a day, L; the table's rows summed."""
    with (PLANS.parent / "tables" / "habits.csv").open(encoding="utf-8", newline="") as file:
        rows = [row for row in csv.DictReader(file) if row["habit"] == habits and not row["needs"]]
    said = {"fresh": 0.0, "grey": 0.0, "hot": 0.0, "urine": 1.4 * people, "run_off": 0.0}
    for row in rows:
        times = float(row["a_day"].split()[0]) * (people if row["per"] == "person" else 1)
        each = float(row["volume"].split()[0]) if row["volume"] else 0.0
        if row["flow"]:
            each = float(row["flow"].split()[0]) * float(row["duration"].split()[0]) / 60
        said["fresh"] += times * each
        said["grey"] += times * each * float(row["returns"].split()[0]) / 100 * (row["to"] == "grey")
        if row["temperature"]:
            warm = float(row["temperature"].split()[0])
            said["hot"] += times * each * max(warm - cold, 0.0)  # litre kelvins
        said["run_off"] += times * (row["hot"] == "yes")
        if row["use"] == "shower":
            said["shower"] = each
    return said


def axles(facts: dict[str, Any], fresh: float, grey: float) -> tuple[float, float]:
    """What the axles carry with so much in the tanks, kg: balance of moments about each of them."""
    front, rear = facts["empty_front"], facts["empty_rear"]
    things = [(fresh, facts["fresh_x"]), (grey, facts["grey_x"]), (facts["heater_volume"], facts["heater_x"])]
    for mass, x in (*things, *facts["loads"]):
        rear += mass * x / facts["wheelbase"]
        front += mass * (1 - x / facts["wheelbase"])
    return front, rear


def worked_flow(facts: dict[str, Any], outlet: str) -> float:
    """Flow of an outlet by a series sum, L/min: pump curve against height, hose by Blasius, fittings, valve, outlet."""
    way = facts["ways"][outlet]
    slip = facts["curve"][-1][0] * (1 - facts["volts"] / facts["curve_volts"])  # strokes that it lacks, L/min

    def left(flow: float) -> float:
        """Pressure left over at a flow, bar."""
        curve, at, pressure = facts["curve"], flow + slip, 0.0
        for (low, high), (next_low, next_high) in pairwise(curve):
            if low <= at <= next_low:
                pressure = high + (next_high - high) * (at - low) / (next_low - low)
        lost = way["rise"] * 9.81e3 / BAR + (flow / way["constant"]) ** 2
        for metres, bore, part, k in way["runs"]:
            speed = part * flow / 6e4 / (0.7854 * (bore * 1e-3) ** 2)
            reynolds = max(speed * bore * 1e-3 / 1.3e-6, 1.0)
            factor = 64 / reynolds if reynolds < 2300 else 0.316 / reynolds**0.25
            lost += (factor * metres / (bore * 1e-3) + k) * 500 * speed**2 / BAR
        return pressure - lost

    low, high = 0.0, facts["curve"][-1][0]
    for _ in range(50):
        middle = 0.5 * (low + high)
        low, high = (middle, high) if left(middle) > 0 else (low, middle)
    return low


def sound_van(seed: int) -> Van:
    """One of the fleet, the same at every run.

    Parameters
    ----------
    seed : int
        Its number.

    Returns
    -------
    Van
        Whole and sound by the sums of this module; some of its wishes may be beyond what it gives.
    """
    draw = random.Random(f"fleet {seed}")
    us = draw.random() < 0.5
    text, units = _Text(us), "us" if us else "metric"
    facts: dict[str, Any] = {"us": us, "people": draw.randint(1, 5)}
    raw: Raw = {"van": {"name": f"Van {seed}", "units": units}}
    _site(draw, raw, facts, text)
    _pump(draw, raw, facts, text)
    _tanks(draw, raw, facts, text)
    _heater(draw, raw, facts, text)
    _lines(draw, raw, facts, text, units)
    _mains(draw, raw, facts, text)
    _outlets(draw, raw, facts, text)
    _accumulator(draw, raw, facts, text)
    _frost(draw, raw, facts, text)
    _battery(draw, raw, facts)
    _vehicle(draw, raw, facts, text)
    _household(draw, raw, facts)
    return Van(raw, facts)


def _site(draw: random.Random, raw: Raw, facts: dict[str, Any], text: _Text) -> None:
    facts["altitude"] = round(draw.uniform(0, 2500))
    facts["highest"] = round(draw.uniform(facts["altitude"], 3000))
    facts["cold"], facts["warmest"] = draw.randint(6, 16), draw.randint(28, 40)
    raw["site"] = {
        "altitude": text.altitude(facts["altitude"]),
        "highest": text.altitude(facts["highest"]),
        "cold_water": text.warmth(facts["cold"]),
        "warmest": text.warmth(facts["warmest"]),
        "coldest": text.warmth(5),
    }


def _pump(draw: random.Random, raw: Raw, facts: dict[str, Any], text: _Text) -> None:
    """A diaphragm pump whose switch stops it well below what it still makes if it is 15 % weaker."""
    most, shut = draw.choice([(7.5, 2.9), (11.0, 3.9), (12.5, 3.4), (17.0, 4.6)])
    most, shut = most * draw.uniform(0.9, 1.1), shut * draw.uniform(0.95, 1.05)
    bend = draw.uniform(1.0, 1.5)
    facts["curve"] = [(most * part, shut * (1 - part**bend)) for part in (0.0, 0.25, 0.5, 0.75, 1.0)]
    nominal = draw.choice([12, 12, 24])
    facts["curve_volts"] = 13.6 * nominal / 12
    facts["volts"] = facts["curve_volts"] * draw.uniform(0.92, 1.0)
    shut *= (facts["volts"] / facts["curve_volts"]) ** 2
    facts["shut_off"] = shut
    facts["cut_out"] = shut * draw.uniform(0.62, 0.82)
    facts["cut_in"] = facts["cut_out"] - draw.uniform(0.7, 1.0)
    raw["pumps"] = {
        "pump": {
            "kind": "diaphragm",
            "curve": [[text.flow(flow), text.pressure(pressure)] for flow, pressure in facts["curve"]],
            "curve_volts": f"{facts['curve_volts']:.3f} V",
            "volts": f"{facts['volts']:.3f} V",
            "current": f"{most * 0.55 * 12 / nominal:.2f} A",
            "cut_in": text.pressure(facts["cut_in"]),
            "cut_out": text.pressure(facts["cut_out"]),
        }
    }
    facts["nominal"] = nominal


def _tanks(draw: random.Random, raw: Raw, facts: dict[str, Any], text: _Text) -> None:
    facts["frost"] = draw.random() < 0.5
    facts["under_floor"] = draw.random() < 0.5
    floor = -0.3 if facts["under_floor"] else 0.03
    sides = {name: (draw.uniform(0.7, 1.2), draw.uniform(0.4, 0.65), draw.uniform(0.19, 0.26)) for name in ("f", "g")}
    raw["tanks"] = {}
    for name, key, x in (("fresh", "f", draw.uniform(1.0, 2.0)), ("grey", "g", draw.uniform(2.0, 3.0))):
        length, width, height = sides[key]
        facts[name], facts[f"{name}_x"] = length * width * height * 1e3, x
        facts[f"{name}_area"] = 2 * (length * width + length * height + width * height)
        raw["tanks"][name] = {
            "holds": name,
            "length": text.length(length),
            "width": text.length(width),
            "height": text.length(height),
            "x": text.length(x),
            "y": text.length(draw.uniform(-0.2, 0.2)),
            "z": text.length(floor),
            "beside": "outside" if facts["under_floor"] else "room",
        }
    pickup, top = 0.012, floor + draw.uniform(0.15, 0.7)
    raw["tanks"]["fresh"]["pickup"] = text.length(pickup)
    facts["lift"], facts["check"] = top - floor - pickup, draw.random() < 0.2
    needed = (facts["lift"] + 0.3 + 0.55 * facts["check"]) * 1.01325 / air(facts["highest"])
    raw["pumps"]["pump"]["z"] = text.length(top)
    raw["pumps"]["pump"]["priming_lift"] = text.length(max(needed, 1.2) * draw.uniform(1.03, 1.4))
    facts["pump_z"], facts["usable"] = top, 0.97
    if draw.random() < 0.3:
        raw["tanks"]["urine container"] = {
            "holds": "urine",
            "capacity": text.volume(20),
            "beside": "room",
            "x": text.length(2.0),
            "y": text.length(0.0),
            "z": text.length(0.0),
        }
        facts["urine"] = 20.0


def _heater(draw: random.Random, raw: Raw, facts: dict[str, Any], text: _Text) -> None:
    """A heater that lasts for a shower, its relief valve between cut-out and what the pieces stand."""
    source = draw.choice(["inverter", "inverter", "gas", "engine", "diesel", "none"])
    facts["source"], facts["habits"] = source, draw.choice(["careful", "moderate", "home-like"])
    facts["heater_volume"], facts["heater_x"], facts["set"] = 0.0, 3.0, 0.0
    if source == "none":
        return
    facts["set"] = draw.randint(58, 68) if source != "engine" else draw.randint(60, 70)
    shower = litres(facts["habits"], 1, facts["cold"])["shower"]
    least = 1.2 * shower * (38 - facts["cold"]) / (facts["set"] - facts["cold"])
    facts["heater_volume"] = max(6.0, least) * draw.uniform(1.0, 1.6)
    facts["power"] = draw.randint(6, 15) * 100 if source == "inverter" else 2000
    facts["feed_check"] = draw.random() < 0.5
    hose = 8.0 - 5.0 / 40.0 * (facts["warmest"] - 20)  # what PVC hose stands, from 8 bar at 20 °C to 3 bar at 60 °C
    most = 9.0 if facts["feed_check"] else 0.85 * hose
    facts["relief"] = draw.choice([each for each in (3.5, 4.0, 4.5, 6.0) if 1.1 * facts["cut_out"] < each < most])
    raw["heaters"] = {
        "heater": {
            "volume": text.volume(facts["heater_volume"]),
            "source": source,
            "power": f"{facts['power']} W",
            "set_point": text.warmth(facts["set"]),
            "relief": text.pressure(facts["relief"]),
            "rated": text.pressure(8.0),
            "standby": "18 W",
            "hours_on": "2 h",
            "x": text.length(3.0),
            "y": text.length(0.3),
            "z": text.length(0.2),
        }
    }
    if source == "inverter":
        raw["heaters"]["heater"] |= {"volts": "230 V" if not text.us else "120 V", "empty_cut_out": True}


def _run(begin: str, end: str, size: str, length: str, fittings: dict[str, int] | None = None) -> Raw:
    return {"from": begin, "to": end, "size": size, "length": length, "beside": "room", "fittings": fittings or {}}


def _lines(draw: random.Random, raw: Raw, facts: dict[str, Any], text: _Text, units: str) -> None:
    """Suction, trunk, cold and hot lines, a drain from each outlet; sharp bends and their K as handbooks have them."""
    cold, bore = draw.choice(list(COLD_HOSES[units].items()))
    hot = draw.choice(HOT_PIPES[units])
    elbow = _elbow(cold)
    tall = {"shower": 1.7, "galley tap": 1.1, "basin tap": 1.0}
    facts["ways"], facts["cold_hose"], facts["cold_bore"] = {}, cold, bore
    suction = draw.uniform(0.5, 1.5)
    trunk = draw.uniform(0.4, 1.2)
    valve = {"flap check valve": 1} if facts["check"] else {}
    runs = raw["runs"] = {
        "suction": _run("fresh", "pump", cold, text.length(suction), {"tank outlet": 1, "strainer": 1, **valve}),
        "trunk": _run("pump", "tee", cold, text.length(trunk)),
    }
    raw["tees"] = {"tee": {"z": text.length(facts["pump_z"] + 0.02)}}
    before = [(suction, bore, 1.0, 4.0 + 3.0 * facts["check"]), (trunk, bore, 1.0, 1.0)]
    facts["thermostats"] = draw.random() < 0.5 or facts["source"] == "engine" or facts["set"] > 65
    names = ["shower", "galley tap", *(["basin tap"] if draw.random() < 0.6 else [])]
    facts["outlets"] = names
    heated = facts["source"] != "none"
    if heated:
        feed, hot_trunk, cold_trunk = (draw.uniform(0.3, 1.0) for _ in range(3))
        valve = {"spring check valve": 1} if facts["feed_check"] else {}
        runs["heater feed"] = _run("tee", "feed tee", hot, text.length(feed), valve)
        runs["heater entry"] = _run("feed tee", "heater", hot, text.length(0.2))
        runs["hot trunk"] = _run("heater", "hot tee", hot, text.length(hot_trunk), {"heater passage": 1})
        runs["cold trunk"] = _run("tee", "cold tee", cold, text.length(cold_trunk))
        raw["tees"] |= {name: {"z": text.length(0.2)} for name in ("cold tee", "feed tee", "hot tee")}
        raw["mixers"] = {}
    for name in names:
        length, last = draw.uniform(1.0, 4.0), draw.uniform(0.5, 1.5)
        z = tall[name]
        facts["ways"][name] = way = {"rise": z - raw_z(facts), "runs": [*before]}
        if heated and name != "basin tap":
            raw["mixers"][f"{name} mixer"] = mixer = {"z": text.length(z - 0.3)}
            facts.setdefault("mixed", []).append(name)
            thermostat = facts["thermostats"]
            if thermostat:
                mixer |= {"kind": "thermostatic", "set": text.warmth(38 if name == "shower" else 42)}
                mixer |= {"least_flow": text.flow(1.0), "hot_excess": "10 K" if not text.us else "18 Δ°F"}
                fittings = {"thermostatic mixing valve": 1}
            else:
                mixer |= {"kind": "hand"}
                fittings = {"mixing tap": 1}
            runs[f"hot {name} line"] = _run(
                "hot tee", f"{name} mixer", hot, text.length(length), {_elbow(hot): 2, **fittings}
            )
            runs[f"cold {name} line"] = _run(
                "cold tee", f"{name} mixer", cold, text.length(length), {elbow: 2, **fittings}
            )
            end = "pvc hose 10 mm" if thermostat or facts["set"] <= 58 else "silicone hose 10 mm"
            runs[f"{name} hose"] = _run(f"{name} mixer", name, end, text.length(last))
            way["runs"] += [(cold_trunk, bore, 0.5, 1.0), (length, bore, 0.5, 9.0), (last, 10.0, 1.0, 1.0)]
        else:
            start = "cold tee" if heated else "tee"
            runs[f"{name} line"] = _run(start, name, cold, text.length(length), {elbow: 2})
            way["runs"] += [(length, bore, 1.0, 3.0)]
        runs[f"{name} drain"] = _run(name, "grey", "corrugated waste hose 25 mm", text.length(1.2), {})
        runs[f"{name} drain"] |= {"slope": "4 %"}


def _mains(draw: random.Random, raw: Raw, facts: dict[str, Any], text: _Text) -> None:
    """An inlet in one van of four: its regulator above cut-in, a check valve behind it and one behind the pump."""
    facts["mains"] = draw.random() < 0.25
    if not facts["mains"]:
        return
    raw["mains"] = {
        "city inlet": {
            "lowest": text.pressure(2.0),
            "highest": text.pressure(6.0),
            "regulator": text.pressure(facts["cut_in"] + 0.15),
            "z": text.length(0.4),
        }
    }
    check = {"spring check valve": 1}
    raw["runs"]["inlet hose"] = _run("city inlet", "tee", facts["cold_hose"], text.length(1.0), check)
    raw["runs"]["trunk"]["fittings"] = check
    for way in facts["ways"].values():
        way["runs"].append((0.0, facts["cold_bore"], 1.0, 4.0))


def raw_z(facts: dict[str, Any]) -> float:
    """Height of the water that is left, m."""
    return float(facts["pump_z"] - facts["lift"])


def _elbow(size: str) -> str:
    return ELBOWS["pvc" if size.startswith("pvc") else "us" if size.endswith("in") else "pex"]


def _outlets(draw: random.Random, raw: Raw, facts: dict[str, Any], text: _Text) -> None:
    raw["outlets"] = {}
    facts["wanted"] = {}
    for name in facts["outlets"]:
        flow = {"shower": 7.0, "galley tap": 6.0, "basin tap": 4.5}[name] * draw.uniform(0.8, 1.2)
        facts["ways"][name]["constant"] = flow
        outlet = {"flow": text.flow(flow), "at": text.pressure(1.0)}
        outlet["z"] = text.length(facts["ways"][name]["rise"] + raw_z(facts))
        if name in facts.get("mixed", []):
            outlet["temperature"] = text.warmth({"shower": 38, "galley tap": 42}[name])
        facts["wanted"][name] = worked_flow(facts, name) * draw.choice([0.5, 0.6, 0.65, 0.7, 0.75, 1.3])
        outlet["wanted"] = text.flow(facts["wanted"][name])
        if draw.random() < 0.5:
            outlet["rated"] = text.pressure(10.0)
        raw["outlets"][name] = outlet


def _accumulator(draw: random.Random, raw: Raw, facts: dict[str, Any], text: _Text) -> None:
    """Its gauge reads 0.12 to 0.3 bar less than cut-in on the hottest day at the highest place."""
    facts["vessel"], facts["room"] = draw.random() < 0.6, 0.0
    if not facts["vessel"]:
        return
    hottest = (facts["cut_in"] - draw.uniform(0.12, 0.3) + air(facts["highest"])) * ROOM / (facts["warmest"] + 273.15)
    facts["precharge"] = hottest - air(facts["altitude"])
    facts["vessel_volume"] = draw.choice([0.5, 0.75, 1.0, 2.0])
    raw["accumulators"] = {
        "vessel": {
            "at": "tee",
            "volume": text.volume(facts["vessel_volume"]),
            "precharge": text.pressure(facts["precharge"]),
            "rated": text.pressure(8.0),
        }
    }
    facts["room"] = 0.0 if facts.get("feed_check") else facts["vessel_volume"]
    if facts.get("feed_check") and draw.random() < 0.5:  # one more for what the heater's water grows, where it is cold
        facts["room"] = 2.0
        raw["accumulators"]["feed vessel"] = dict(raw["accumulators"]["vessel"], at="feed tee", volume=text.volume(2.0))


def _frost(draw: random.Random, raw: Raw, facts: dict[str, Any], text: _Text) -> None:
    """Pads by U·A with foam of 0.037 W/mK, twice as much for edges, floor and the wind of the road."""
    facts["pads"] = 0.0
    if not facts["frost"]:
        return
    cold = facts["design_cold"] = draw.randint(-15, -3)
    mean = facts["mean_cold"] = cold + draw.randint(2, 6)
    raw["frost"] = {"design_cold": text.warmth(cold), "mean_cold": text.warmth(mean), "room": text.warmth(16)}
    raw["frost"]["nights"] = 1
    if not facts["under_floor"]:
        return
    raw["pads"] = {}
    for name in ("fresh", "grey"):
        foam = draw.choice([0.02, 0.03, 0.04])
        raw["tanks"][name]["foam"] = text.length(foam)
        lost = facts[f"{name}_area"] * 0.037 / foam * (4 - cold)
        counted = name == "fresh"
        power = round(2.0 * lost / 0.75)
        raw["pads"][f"{name} pad"] = {"tank": name, "power": f"{power} W", "protected_by": "level"}
        raw["pads"][f"{name} pad"]["fed"] = "battery" if counted else "shore"
        if counted:
            facts["pads"] = facts["fresh_area"] * 0.037 / foam * max(4 - mean, 0) * 24 / 0.75  # Wh a day


def _battery(draw: random.Random, raw: Raw, facts: dict[str, Any]) -> None:
    nominal, water = facts["nominal"], litres(facts["habits"], facts["people"], facts["cold"])
    charge = draw.choice([100, 200, 280, 400])
    while nominal * 16 / 15 * charge * 0.85 < 1.6 * facts["pads"]:
        charge += 100
    facts["charge"] = nominal * 16 / 15 * charge * 0.85  # usable Wh
    facts["other"] = draw.randint(300, 900)
    facts["charging"] = facts["other"] * draw.uniform(0.2, 1.6)
    facts["heat"] = 0.0
    current = 60.0
    if facts["source"] == "inverter":
        facts["heat"] = (water["hot"] * 1.163 + 18 * 2) / 0.9 + 10 * 2
        current = facts["power"] / (0.9 * 0.98 * nominal * 16 / 15)
        raw["inverter"] = {
            "volts": "120 V" if facts["us"] else "230 V",
            "rating": f"{1.35 * facts['power']:.0f} W",
            "efficiency": "90 %",
            "idle": "10 W",
            "hours_on": "2 h",
            "cable": "98 %",
        }
    facts["current"] = current
    raw["battery"] = {
        "volts": f"{nominal * 16 / 15:.4g} V",
        "charge": f"{charge} Ah",
        "usable": "85 %",
        "other_loads": f"{facts['other']} Wh/day",
        "charging": f"{facts['charging']:.0f} Wh/day",
        "max_current": f"{current * draw.uniform(1.3, 1.8):.0f} A",
    }


def _vehicle(draw: random.Random, raw: Raw, facts: dict[str, Any], text: _Text) -> None:
    """Each axle and the total keep 6 % with both tanks full."""
    facts["wheelbase"] = draw.uniform(3.3, 4.3)
    facts["empty_front"], facts["empty_rear"] = draw.randint(1250, 1500), draw.randint(1050, 1350)
    people = 75.0 * facts["people"]
    facts["loads"] = [(min(people, 150.0), 1.2), (max(people - 150.0, 0.0) + 120.0, 2.6), (20.0, 2.0)]
    states = [(1.0, 0.0), (0.0, 1.0), (1.0, 1.0), (0.0, 0.0)]
    loads = [axles(facts, facts["fresh"] * fresh, facts["grey"] * grey) for fresh, grey in states]
    facts["front"], facts["rear"] = max(load[0] for load in loads), max(load[1] for load in loads)
    facts["total"] = max(map(sum, loads))
    raw["vehicle"] = {
        "wheelbase": text.length(facts["wheelbase"]),
        "track": text.length(1.8),
        "empty_front": text.mass(facts["empty_front"]),
        "empty_rear": text.mass(facts["empty_rear"]),
        "permitted_front": text.mass(1.06 * facts["front"]),
        "permitted_rear": text.mass(1.06 * facts["rear"]),
        "permitted_total": text.mass(1.055 * facts["total"]),
    }
    raw["loads"] = {
        name: {"mass": text.mass(mass), "x": text.length(x), "y": text.length(0)}
        for name, (mass, x) in zip(("in front", "behind"), facts["loads"], strict=False)
    }


def _household(draw: random.Random, raw: Raw, facts: dict[str, Any]) -> None:
    """A stay of three quarters of the shortest store's days; in one van of five a wish beyond it."""
    water = facts["water"] = litres(facts["habits"], facts["people"], facts["cold"])
    raw["household"] = {"people": facts["people"], "habits": facts["habits"]}
    raw["uses"] = {"shower": {"outlet": "shower"}, "dishes": {"outlet": "galley tap"}}
    net = facts["other"] + facts["heat"] + facts["pads"] - facts["charging"]
    days = {
        "fresh": facts["usable"] * facts["fresh"] / (water["fresh"] + 0.25 * water["run_off"]),
        "grey": facts["grey"] / (water["grey"] + 0.25 * water["run_off"]),
        "battery": facts["charge"] / net if net > 0 else 999.0,
    }
    if "urine" in facts:
        days["urine"] = facts["urine"] / water["urine"]
    facts["days"] = min(days.values())
    facts["days_wanted"] = max(round(facts["days"] * draw.choice([0.5, 0.6, 0.7, 0.75, 1.5]), 1), 0.5)
    raw["household"]["days_wanted"] = f"{facts['days_wanted']} days"
