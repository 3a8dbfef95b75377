from __future__ import annotations

from typing import Any

import numpy as np
import pytest

from tests.answers.frosty import TANK, frosty
from vanwater.physics.heat_loss import face_transmittance
from vanwater.physics.shape_factors import box_areas
from vanwater.physics.tank_faces import Faces, Layers
from vanwater.plan.model import Plan
from vanwater.plan.tables import materials
from vanwater.plan.winter import BESIDE
from vanwater.quantities import Array
from vanwater.system.batch import Batch, Row
from vanwater.system.heat import FACES, FOAM_CONDUCTIVITY, WALL, TankHeat, beside, faces_of, tank_heat, transmittances
from vanwater.system.stores import tank_reach
from vanwater.system.surroundings import Case


def known(plan: Plan, *rows: Row, tank: str = "fresh") -> TankHeat:
    found = tank_heat(Batch(plan, rows), tank)
    assert found is not None
    return found


def with_tank(**fields: Any) -> Plan:
    return frosty(pads=None).changed({"tanks.fresh": {**TANK, **fields}})


def cylinder(shape: str, **sides: str) -> Plan:
    return frosty(pads=None).changed({"tanks.fresh": {"holds": "fresh", "shape": shape, "z": "-0.3 m", **sides}})


def test_faces_of_a_box_are_its_sides() -> None:
    area = known(frosty()).faces.area[0]
    assert area == pytest.approx([0.36, 0.36, 0.09, 0.09, 0.16, 0.16])
    assert known(with_tank(count=3)).faces.area[0] == pytest.approx(3 * area)
    assert known(with_tank(count=3)).content[0] == pytest.approx(3 * 0.072)


@pytest.mark.parametrize(
    ("shape", "sides", "area", "volume"),
    [
        ("lying cylinder", {"length": "1 m", "diameter": "0.4 m"}, np.pi * 0.4 + np.pi / 2 * 0.16, np.pi / 4 * 0.16),
        ("standing cylinder", {"height": "1 m", "diameter": "0.4 m"}, np.pi * 0.4 + np.pi / 2 * 0.16, np.pi / 4 * 0.16),
    ],
)
def test_faces_of_a_cylinder_add_up_to_its_skin(shape: str, sides: dict[str, str], area: float, volume: float) -> None:
    plan = cylinder(shape, **sides)
    made = faces_of(Batch(plan), "fresh")
    assert made is not None
    assert made.area.sum() == pytest.approx(area)
    assert known(plan).content[0] == pytest.approx(volume)
    assert {face.value for face in made.facing} == {"up", "down", "side"}


def test_wind_goes_along_a_cylinder_s_own_lengths_and_still_air_by_its_own_sizes() -> None:
    sides = {"diameter": "0.4 m"}
    lying = faces_of(Batch(cylinder("lying cylinder", length="1 m", **sides)), "fresh")
    standing = faces_of(Batch(cylinder("standing cylinder", height="1 m", **sides)), "fresh")
    assert lying is not None and standing is not None
    assert lying.along.tolist() == [[1.0, 1.0, 0.4, 0.4, 1.0, 1.0]]
    assert standing.along.tolist() == [[0.4] * 6]
    strip = np.pi / 4 * 0.4  # a level face counts by its area over its rim, an upright one by its height
    assert lying.size[0] == pytest.approx([strip / (2 * (strip + 1.0))] * 2 + [0.4] * 4)
    assert standing.size[0] == pytest.approx([np.pi / 4 * 0.16 / (np.pi * 0.4)] * 2 + [1.0] * 4)


def test_content_is_that_of_the_stores_for_a_level_van() -> None:
    for plan in (
        with_tank(overflow="0.15 m"),
        with_tank(capacity="65 L"),
        with_tank(capacity="65 L", count=2),
        cylinder("lying cylinder", length="1 m", diameter="0.4 m", overflow="0.25 m"),
        cylinder("standing cylinder", height="1 m", diameter="0.4 m", overflow="0.8 m"),
    ):
        assert known(plan).content[0] == pytest.approx(tank_reach(Batch(plan), "fresh").full[0])


def test_beside_by_face_by_tank_by_height() -> None:
    plan = with_tank(beside="box", faces={"top": {"beside": "room"}})
    assert beside(plan.tanks["fresh"], "top") == "room"
    assert beside(plan.tanks["fresh"], "left") == "box"
    assert beside(frosty().tanks["fresh"], "top") == "outside"
    assert beside(with_tank(z="0.1 m").tanks["fresh"], "top") == "room"
    assert beside(frosty(tanks__fresh__z=None).tanks["fresh"], "top") is None


def test_what_is_not_decided_gives_no_faces() -> None:
    no_sides = frosty(pads=None).changed({"tanks.fresh": {"holds": "fresh", "capacity": "70 L", "z": "-0.3 m"}})
    assert tank_heat(Batch(no_sides), "fresh") is None
    assert tank_heat(Batch(frosty(tanks__fresh__z=None)), "fresh") is None
    assert tank_heat(Batch(frosty(tanks__fresh__z=None, tanks__fresh__beside="outside")), "fresh") is not None


def test_layers_by_face_and_row() -> None:
    rows = [
        Row("face", {"tanks.fresh.faces.bottom.foam": 0.05}),
        Row("tank", {"tanks.fresh.foam": 0.04}),
        Row("leaky", factors={"foam": 1.25}),
        Row("moved", {"tanks.fresh.beside": "room", "tanks.fresh.faces.left.beside": "box"}),
    ]
    plan = frosty(tanks__fresh__faces={"top": {"foam": "10 mm", "beside": "box"}}, tanks__fresh__wall=None)
    one = known(plan, *rows)
    foam = np.asarray(one.layers.foam)
    bottom, top, left = (FACES.index(face) for face in ("bottom", "top", "left"))
    assert foam[0, [bottom, top, left]] == pytest.approx([0.02, 0.01, 0.02])
    assert foam[1, [bottom, top]] == pytest.approx([0.05, 0.01])
    assert foam[2, [bottom, top]] == pytest.approx([0.04, 0.01])  # the face's own word stays
    soft = np.asarray(one.layers.foam_conductivity)
    assert soft[0, 0] == FOAM_CONDUCTIVITY
    assert soft[3] == pytest.approx(1.25 * FOAM_CONDUCTIVITY)
    assert np.asarray(one.layers.wall)[0, 0] == WALL
    assert np.asarray(one.layers.wall_conductivity)[0, 0] == materials()["polyethylene"].conductivity
    steel = known(with_tank(material="stainless steel"))
    assert np.asarray(steel.layers.wall_conductivity)[0, 0] == materials()["stainless steel"].conductivity
    assert [BESIDE[code] for code in one.codes[4]] == ["room", "box", "room", "room", "box", "room"]


def test_transmittances_of_several_tanks_at_once_are_those_one_by_one() -> None:
    plan = frosty(
        tanks__grey={"holds": "grey", "length": "0.6 m", "width": "0.5 m", "height": "0.25 m", "z": "-0.3 m"},
        tanks__fresh__faces={"top": {"beside": "room"}},
        site__wind="2 m/s",
    )
    batch = Batch(plan, [Row("windy", factors={"wind": 2.0})])
    tanks = [known_in(batch, name) for name in ("fresh", "grey")]
    hold, cold = batch.number("frost.hold"), batch.number("frost.design_cold")
    cases = [Case(hold, cold), Case(hold, cold, driving=True)]
    together = transmittances(batch, tanks, cases)
    for tank, found in zip(tanks, together, strict=True):
        assert found.shape == (2, 2, 6)
        (alone,) = transmittances(batch, [tank], cases)
        assert found == pytest.approx(alone, rel=1e-5)  # the films stop at 0.1 mK, each call for itself
    assert transmittances(batch, [], cases) == []


def known_in(batch: Batch, name: str) -> TankHeat:
    found = tank_heat(batch, name)
    assert found is not None
    return found


def test_transmittance_is_that_of_the_physics() -> None:
    plan = frosty(site__wind="1.5 m/s", tanks__fresh__material="pex", tanks__fresh__foam_conductivity="0.036 W/mK")
    batch = Batch(plan)
    (found,) = transmittances(batch, [known_in(batch, "fresh")], [Case(np.array([277.15]), np.array([265.15]))])
    foam, skin = box_areas(0.8, 0.45, 0.2, 5e-3, 20e-3)
    layers = Layers(
        wall=5e-3, wall_conductivity=0.4, foam=20e-3, foam_conductivity=0.036, foam_area=foam, skin_area=skin
    )
    hand: Array = face_transmittance(277.15, 265.15, layers, Faces.of_box(0.8, 0.45, 0.2), speed=1.5)
    assert found[0, 0] == pytest.approx(hand, rel=1e-5)


@pytest.mark.parametrize("shape", ["lying cylinder", "standing cylinder"])
def test_edges_and_skin_of_a_cylinder_count(shape: str) -> None:
    sides = {"length" if shape == "lying cylinder" else "height": "1 m", "diameter": "0.4 m"}
    layers = known(cylinder(shape, foam="30 mm", wall="5 mm", **sides)).layers
    ends = [2, 3] if shape == "lying cylinder" else [0, 1]
    skin, foam = np.asarray(layers.skin_area)[0], np.asarray(layers.foam_area)[0]
    assert skin[ends] == pytest.approx([(0.47 / 0.4) ** 2] * 2)
    assert np.all((foam > 1.05) & (foam < skin))
