"""A van worked by hand, written as a plan: tanks and axles, way of the water, heater, battery, cold."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from vanwater.plan.model import Plan

__all__ = ["PLANS", "in_the_cold", "plan_of"]


def plan_of(van: Mapping[str, Any]) -> Plan:
    """A worked van as a builder would write it down.

    Parameters
    ----------
    van : mapping
        One of ``data/validation/worked_vans.json``.

    Returns
    -------
    Plan
        With its tanks as they are parked; see :func:`in_the_cold` for their walls.
    """
    given = van["inputs"]
    way = given["supply"]
    return Plan.of(
        {
            "van": {"name": van["id"]},
            "household": {"people": given["people"], "run_off": 1.0},
            "site": _site(given),
            "uses": _uses(given),
            "tanks": _tanks(given),
            **_supply(way, given["accumulator"]),
            **_heat(given["heater"], given["electric"], given["axles"]["heater_x_m"]),
            "vehicle": {"wheelbase": f"{given['axles']['wheelbase_m']} m"},
        }
    )


def in_the_cold(van: Mapping[str, Any]) -> Plan:
    """The same van with its tank under the floor brim full, a pad on it and one run outside.

    Parameters
    ----------
    van : mapping
        One of ``data/validation/worked_vans.json``.

    Returns
    -------
    Plan
        For the question on frost.
    """
    given = van["inputs"]["frost"]
    tank, pipe = given["tank"], given["pipe"]
    body = {
        "capacity": f"{tank['litres']} L",
        "length": f"{tank['L']} m",
        "width": f"{tank['W']} m",
        "height": f"{tank['H']} m",
        "wall": f"{tank['wall_mm']} mm",
        "material": "pex",  # conducts as the hand sum's wall does
        "foam": f"{tank['foam_mm']} mm",
        "foam_conductivity": f"{tank['k_foam']} W/mK",
        "beside": "outside",
    }
    run = {
        "bore": f"{pipe['bore_mm']} mm",
        "outside": f"{pipe['od_mm']} mm",
        "foam": f"{pipe['foam_mm']} mm",
        "foam_conductivity": f"{pipe['k_foam']} W/mK",
        "beside": "outside",
    }
    frost = {
        "design_cold": f"{given['T_out']} °C",
        "mean_cold": f"{given['T_out_mean']} °C",
        "hold": f"{given['T_hold']} °C",
        "start": f"{given['T_start']} °C",
        "road_speed": f"{given['speed_km_h']} km/h",
        "under_floor": given["underbody_share"],
        "ice_share": given["ice_share"],
    }
    power, share = f"{given['pad_W']} W", given["pad_share_into_water"]
    return plan_of(van).changed(
        {
            "site.wind": f"{given['wind_parked_m_s']} m/s",
            "frost": frost,
            "pads.pad": {
                "tank": "fresh",
                "power": power,
                "net_share": share,
                "fed": "battery" if given["use_pad"] else "shore",
            },
            **{f"tanks.fresh.{key}": value for key, value in body.items()},
            **{f"runs.trunk.{key}": value for key, value in run.items()},
        }
    )


def _site(given: Mapping[str, Any]) -> dict[str, Any]:
    way, pitch = given["supply"], given["tanks"].get("pitch_deg", 0)
    return {"altitude": f"{way['altitude_m']} m", "cold_water": f"{way['T_cold']} °C", "pitch": f"{pitch}°"}


def _uses(given: Mapping[str, Any]) -> dict[str, Any]:
    uses: dict[str, Any] = {
        name: {
            "a_day": f"{use['events_a_day']} a day",
            "per": "van",
            "volume": f"{use['litres']} L",
            "returns": use["grey_share"],
            "hot": bool(use.get("run_off")),
            "outlet": "shower",
            **({"temperature": f"{use['T']} °C"} if "T" in use else {}),
        }
        for name, use in given["uses"].items()
    }
    if "urine_L" in given["tanks"]:
        each = f"{given['tanks']['urine_L_person_day']} L"
        uses["urine"] = {"a_day": "1 a day", "volume": "0 L", "adds": each, "returns": 0.0, "to": "urine"}
    return uses


def _tanks(given: Mapping[str, Any]) -> dict[str, Any]:
    sizes, places = given["tanks"], given["axles"]
    full, usable = places["fresh_kg"], sizes["fresh_usable_L"]  # the hand sums take 1 L as 1 kg
    surface = given["supply"]["z_tank_surface"]
    fresh: dict[str, Any] = {"holds": "fresh", "capacity": f"{full} L", "x": f"{places['fresh_x_m']} m"}
    fresh["temperature"] = f"{given['supply']['T_cold']} °C"  # the hand sums draw it as cold as it was filled
    if "pickup_mm" in sizes:
        box = given["frost"]["tank"]
        fresh |= {name: f"{box[side]} m" for name, side in (("length", "L"), ("width", "W"), ("height", "H"))}
        fresh |= {"pickup": f"{sizes['pickup_mm']} mm", "pickup_from_front": f"{sizes['pickup_from_front_m']} m"}
        fresh["z"] = f"{surface - box['H'] / 2:.6g} m"  # half full it stands at that surface
    else:
        fresh |= {"out_of_reach": f"{full - usable:.6g} L", "z": f"{surface} m"}
    grey = {"holds": "grey", "capacity": f"{sizes['grey_usable_L']} L", "x": f"{places['grey_x_m']} m"}
    tanks: dict[str, Any] = {"fresh": fresh, "grey": grey}
    if "urine_L" in sizes:
        tanks["urine container"] = {"holds": "urine", "capacity": f"{sizes['urine_L']} L"}
    return tanks


def _supply(way: Mapping[str, Any], vessel: Mapping[str, Any]) -> dict[str, Any]:
    def run(name: str, start: str, end: str) -> dict[str, Any]:
        size = way[name]
        bore, length = f"{size['bore_mm']} mm", f"{size['length_m']} m"
        return {"from": start, "to": end, "bore": bore, "length": length, "k": size["K"], "roughness": "1.5 µm"}

    return {
        "pumps": {
            "pump": {
                "curve": [[f"{flow} L/min", f"{rise} bar"] for flow, rise in way["pump"]],
                "curve_volts": "12 V",
                "volts": "12 V",
                "cut_in": f"{way['cut_in_bar']} bar",
                "cut_out": f"{way['cut_out_bar']} bar",
                "line_gives": f"{vessel['line_compliance_mL_per_bar']} mL/bar",
                "trickle": f"{vessel['draw_L_min']} L/min",
                "z": f"{way['z_pump']} m",
            }
        },
        "tees": {"tee": {}},
        "accumulators": {
            "accumulator": {
                "at": "tee",
                "volume": f"{vessel['volume_L']} L",
                "precharge": f"{vessel['precharge_bar']} bar",
            }
        },
        "mixers": {"mixer": {}},
        "outlets": {
            "shower": {
                "flow": f"{way['handset']['flow_L_min']} L/min",
                "at": f"{way['handset']['at_bar']} bar",
                "temperature": f"{way['T_mix']} °C",
                "z": f"{way['z_handset']} m",
            }
        },
        "runs": {
            "suction": run("suction", "fresh", "pump"),
            "trunk": run("trunk", "pump", "tee"),
            "to heater": {"from": "tee", "to": "heater", "bore": "10 mm", "length": "0 m"},
            "hot leg": run("hot_leg", "heater", "mixer"),
            "cold leg": run("cold_leg", "tee", "mixer"),
            "mixed hose": run("mixed_hose", "mixer", "shower"),
        },
    }


def _heat(heat: Mapping[str, Any], power: Mapping[str, Any], x: float) -> dict[str, Any]:
    return {
        "heaters": {
            "heater": {
                "volume": f"{heat['volume_L']} L",
                "power": f"{heat['element_W']} W",
                "set_point": f"{heat['T_set']} °C",
                "standby": f"{heat['standby_W']} W",
                "hours_on": f"{heat['hours_on']} h",
                "x": f"{x} m",
            }
        },
        "battery": {
            "volts": f"{power['battery_V']} V",
            "charge": f"{power['battery_Ah']} Ah",
            "usable": power["usable_share"],
            "other_loads": f"{power['other_Wh_day']} Wh/day",
            "charging": f"{power['charge_Wh_day']} Wh/day",
        },
        "inverter": {
            "efficiency": power["path_efficiency"],
            "cable": 1.0,
            "idle": f"{power['inverter_idle_W']} W",
            "hours_on": f"{power['inverter_hours']} h",
        },
    }


PLANS: Mapping[str, Callable[[Mapping[str, Any]], Plan]] = {"frost": in_the_cold}
"""How a question asks for the van to be written down, where that is otherwise than :func:`plan_of`."""
