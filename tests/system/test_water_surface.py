from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from vanwater.plan.model import Plan
from vanwater.quantities import Array
from vanwater.system.batch import Batch, Row
from vanwater.system.stores import tank_reach
from vanwater.system.water_surface import held, one_surface, placed, surfaces

LEFT: dict[str, Any] = {
    "holds": "fresh",
    "length": "0.7 m",
    "width": "0.3 m",
    "height": "0.25 m",
    "pickup": "10 mm",
    "overflow": "0.23 m",
    "x": "2 m",
    "y": "-0.6 m",
    "z": "0.1 m",
}
RIGHT = LEFT | {"y": "0.6 m"}
ON = {"from": "right too", "to": "tee", "bore": "12 mm", "length": "1 m"}
SUCTION = {"from": "tee", "to": "pump", "bore": "12 mm", "length": "1 m"}


def plan(tanks: dict[str, Any], **more: Any) -> Plan:
    runs = {f"from {name}": {"from": name, "to": "tee", "bore": "12 mm", "length": "1 m"} for name in tanks}
    return Plan.of(
        {
            "van": {"name": "t"},
            "household": {"people": 2},
            "tanks": tanks,
            "pumps": {"pump": {}},
            "tees": {"tee": {}},
            "runs": {**runs, "suction": SUCTION},
            **more,
        }
    )


def litres(of: Plan) -> float:
    batch = Batch(of)
    return 1e3 * float(sum(tank_reach(batch, name).usable[0] for name in of.tanks))


def sown(of: Plan, level: float, count: int = 400_000) -> dict[str, float]:
    """Water in each box below a plane that is level on earth, by points sown in it; height above the origin."""
    along, across = np.sin([of.site.pitch, of.site.roll])
    up = np.array([along, across, np.sqrt(1 - along**2 - across**2)])
    water = {}
    for name, tank in of.tanks.items():
        sides = np.array([tank.length, tank.width, tank.height], dtype=float)
        corner = np.array([tank.x, tank.y, tank.z], dtype=float) - np.array([sides[0] / 2, sides[1] / 2, 0.0])
        points: Array = corner + np.random.default_rng(3).random((count, 3)) * sides
        water[name] = float(np.mean(points @ up <= level) * np.prod(sides))
    return water


def earth_height(of: Plan, point: tuple[float, float, float]) -> float:
    along, across = np.sin([of.site.pitch, of.site.roll])
    return float(np.dot(point, [along, across, np.sqrt(1 - along**2 - across**2)]))


@pytest.mark.parametrize("tilt", [(0.0, 0.0), (0.0, 3.0), (2.0, -4.0), (-5.0, 1.0)])
def test_joined_tanks_have_one_surface_by_points_sown_at_random(tilt: tuple[float, float]) -> None:
    front = LEFT | {"x": "1.2 m", "z": "0.12 m", "pickup_from_front": "0.6 m", "pickup_from_left": "0.1 m"}
    site = {"pitch": f"{tilt[0]}°", "roll": f"{tilt[1]}°"}
    of = plan({"front": front, "right": RIGHT}, site=site)
    overflows = [(1.2, -0.6, 0.35), (2.0, 0.6, 0.33)]
    pickups = [(1.2 - 0.35 + 0.6, -0.6 - 0.15 + 0.1, 0.13), (2.0, 0.6, 0.11)]
    full = sown(of, min(earth_height(of, point) for point in overflows))
    left = sown(of, max(earth_height(of, point) for point in pickups))
    batch = Batch(of)
    for name in of.tanks:
        reach = tank_reach(batch, name)
        assert reach.full[0] == pytest.approx(full[name], abs=1.5e-4)
        assert reach.out_of_reach[0] == pytest.approx(min(left[name], full[name]), abs=1.5e-4)


def test_joined_tanks_that_stand_apart_lose_litres_on_a_roll() -> None:
    level, rolled = (plan({"left": LEFT, "right": RIGHT}, site={"roll": roll}) for roll in ("0°", "2°"))
    alone = {name: tank | {"z": None} for name, tank in (("left", LEFT), ("right", RIGHT))}
    alone = {name: {key: said for key, said in tank.items() if said is not None} for name, tank in alone.items()}
    apart = 1.2 * np.tan(np.radians(2.0))  # one stands so much higher than the other
    assert litres(level) == pytest.approx(2 * 700 * 0.3 * 0.22)
    assert litres(rolled) == pytest.approx(litres(level) - 2 * 1e3 * 0.7 * 0.3 * apart, rel=0.02)
    assert litres(plan(alone, site={"roll": "2°"})) == pytest.approx(litres(level), rel=0.01)  # not counted, and told


def test_the_higher_of_joined_tanks_is_filled_to_the_overflow_of_the_lower() -> None:
    higher = RIGHT | {"z": "0.2 m"}
    batch = Batch(plan({"left": LEFT, "right": higher}))
    assert tank_reach(batch, "right").full[0] == pytest.approx(0.7 * 0.3 * 0.13)
    assert tank_reach(batch, "left").full[0] == pytest.approx(0.7 * 0.3 * 0.23)
    assert tank_reach(batch, "left").out_of_reach[0] == pytest.approx(0.7 * 0.3 * 0.11)


def test_a_tank_above_the_overflow_of_the_lower_one_stands_empty_and_lets_air_in() -> None:
    of = plan({"left": LEFT, "right": RIGHT | {"z": "0.5 m"}})
    batch = Batch(of)
    assert tank_reach(batch, "right").full[0] == 0.0  # it empties into the lower one
    assert tank_reach(batch, "left").usable[0] == 0.0


def test_pumps_and_check_valves_part_the_water() -> None:
    joined = plan({"left": LEFT, "right": RIGHT})
    assert one_surface(joined) == (("left", "right"),)
    assert placed(joined, ("left", "right"))
    valve = joined.changed({"runs.from left.fittings": {"spring check valve": 1}})
    assert one_surface(valve) == ()
    straight = joined.changed({"runs.from right.to": "right too", "tees.right too": {}, "runs.on": ON})
    assert one_surface(straight) == (("left", "right"),)
    two = Plan.of(
        {
            "van": {"name": "t"},
            "household": {"people": 2},
            "tanks": {"left": LEFT, "right": RIGHT},
            "pumps": {"one": {}, "other": {}},
            "tees": {"tee": {}},
            "outlets": {"tap": {"flow": "6 L/min", "at": "1 bar"}},
            "runs": {
                "a": {"from": "left", "to": "one"},
                "b": {"from": "right", "to": "other"},
                "c": {"from": "one", "to": "tee"},
                "d": {"from": "other", "to": "tee"},
                "e": {"from": "tee", "to": "tap"},
            },
        }
    )
    assert one_surface(two) == ()


ROUND: dict[str, Any] = {"holds": "fresh", "diameter": "0.3 m", "pickup": "20 mm"}


@pytest.mark.parametrize(
    "sides",
    [
        {"shape": "lying cylinder", "length": "0.9 m"},
        {"shape": "lying cylinder", "length": "0.9 m", "lies": "across"},
        {"shape": "standing cylinder", "height": "0.5 m"},
    ],
)
def test_a_cylinder_s_pick_up_at_the_high_end_leaves_more(sides: dict[str, Any]) -> None:
    def left(pitch: str, roll: str) -> float:
        tank = ROUND | sides
        tank["pickup_from_front"] = "0.3 m" if sides.get("lies") == "across" or "height" in sides else "0.9 m"
        of = Plan.of(
            {
                "van": {"name": "t"},
                "household": {"people": 2},
                "tanks": {"a": tank},
                "site": {"pitch": pitch, "roll": roll},
            }
        )
        return float(tank_reach(Batch(of), "a").out_of_reach[0])

    assert left("-3°", "0°") < left("0°", "0°") < left("3°", "0°")
    assert left("0°", "3°") == pytest.approx(left("0°", "-3°"))


def test_a_cylinder_across_the_van_takes_roll_for_pitch() -> None:
    def of(lies: str, pitch: str, roll: str, where: str) -> float:
        tank = ROUND | {"shape": "lying cylinder", "length": "0.9 m", "lies": lies, where: "0.8 m"}
        raw = {"van": {"name": "t"}, "household": {"people": 2}, "site": {"pitch": pitch, "roll": roll}}
        return float(tank_reach(Batch(Plan.of({**raw, "tanks": {"a": tank}})), "a").out_of_reach[0])

    along = of("along", "2°", "1°", "pickup_from_front")
    assert of("across", "1°", "2°", "pickup_from_left") == pytest.approx(along, rel=1e-9)


def test_rows_carry_slope_and_level() -> None:
    of = plan({"left": LEFT, "right": RIGHT}, site={"roll": "1°"})
    batch = Batch(of, [Row("roll", {"site.roll": np.radians(2.0)})])
    alone = Batch(of.changed({"site.roll": "2°"}))
    for name in of.tanks:
        ours, own = surfaces(batch, name), surfaces(alone, name)
        assert ours.full[1] == pytest.approx(own.full[0])
        assert held(batch, name, ours.left)[1] == pytest.approx(held(alone, name, own.left)[0])
