from __future__ import annotations

import numpy as np
import pytest

from tests.answers.frosty import HOSE, frosty
from vanwater.physics.pipe_loss import Pipe, pipe_conductance_in_air
from vanwater.plan.problems import PlanError
from vanwater.plan.tables import pipes
from vanwater.system.batch import Batch, Row
from vanwater.system.exposed import (
    HOSE_WALL,
    RunHeat,
    conductances,
    drains,
    exposed,
    least_slope,
    run_heat,
    standing,
    unknown_wall,
    wall_material,
    waste_runs,
)
from vanwater.system.surroundings import Case

KELVIN = np.array([277.15])


def known(batch: Batch, run: str = "hose") -> RunHeat:
    found = run_heat(batch, run)
    assert found is not None
    return found


def test_exposed_are_those_outside_or_in_a_box() -> None:
    assert exposed(frosty()) == ("hose",)
    assert exposed(frosty(runs__hose__beside="box")) == ("hose",)
    assert exposed(frosty(runs__hose__beside="room")) == ()
    assert exposed(frosty(runs__hose__beside=None)) == ()


def test_water_stands_in_all_runs_but_those_that_drain() -> None:
    grey = {"holds": "grey", "length": "0.6 m", "width": "0.5 m", "height": "0.25 m", "z": "-0.3 m"}
    waste = {"from": "tap", "to": "grey", "size": "waste pipe 32 mm", "length": "2 m"}

    def full(**said: object) -> tuple[str, ...]:
        return standing(frosty(runs__hose__beside="room", tanks__grey=grey, runs__waste=waste | said))

    assert full() == ("hose",)
    assert full(slope="0.2 %") == full(trap=True) == ("hose", "waste")


def test_a_stock_hose_by_its_row() -> None:
    one = known(Batch(frosty()))
    row = pipes()["pvc hose 10 mm"]
    assert (np.asarray(one.pipe.bore)[0], np.asarray(one.pipe.outside)[0]) == (row.bore, row.outside)
    assert np.asarray(one.pipe.wall_conductivity)[0] == row.wall_conductivity
    assert one.water[0] == pytest.approx(np.pi / 4 * 0.01**2 * 2 * 1000)
    # 10 x 15 mm of soft PVC: 1.25 times the water's section, 1200 kg/m3 and 1000 J/kgK against 4186 kJ/m3K
    assert one.wall[0] / one.water[0] == pytest.approx(1.25 * 1.2 / 4.186)
    assert one.wall_known


def test_an_own_bore_has_the_common_wall_unless_its_outside_is_said() -> None:
    bare = HOSE | {"bore": "12 mm"}
    bare.pop("size")
    assumed = known(Batch(frosty(runs__hose=bare)))
    assert np.asarray(assumed.pipe.outside)[0] == pytest.approx(0.012 + 2 * HOSE_WALL)
    assert not assumed.wall_known
    said = known(Batch(frosty(runs__hose=bare | {"outside": "16 mm"})))
    assert np.asarray(said.pipe.outside)[0] == pytest.approx(0.016)
    assert said.wall_known
    bare.pop("bore")
    assert run_heat(Batch(frosty(runs__hose=bare)), "hose") is None


OWN = {key: value for key, value in HOSE.items() if key != "size"} | {"bore": "10 mm", "outside": "12 mm"}


def cools(**said: object) -> float:
    """How fast the hose cools: heat for each kelvin, over the heat that water and wall hold."""
    batch = Batch(frosty(runs__hose=OWN | said))
    one, cold = known(batch), batch.number("frost.design_cold")
    through = conductances(batch, [one], [Case(np.array([277.15]), cold)])[0, 0, 0]
    return float(through / (one.water[0] + one.wall[0]))


def test_a_wall_of_which_nothing_is_said_freezes_soonest() -> None:
    of_pipes = {wall_material(size).key for size in pipes()}
    assert {"copper", "pex", "pvc soft"} <= of_pipes
    for material in of_pipes:
        assert cools() >= cools(material=material) * (1 - 1e-9), material
    assert cools() > 1.1 * cools(material="pvc soft")
    assert unknown_wall().conductivity == 380.0


def test_a_wall_counts_as_what_it_is_said_to_be() -> None:
    one = known(Batch(frosty(runs__hose=OWN | {"material": "pex"})))
    assert np.asarray(one.pipe.wall_conductivity)[0] == 0.40
    assert one.wall[0] / one.water[0] == pytest.approx((1.2**2 - 1) * 0.94 * 2.3 / 4.186)
    with pytest.raises(PlanError, match="says what its wall is made of"):
        frosty(runs__hose=HOSE | {"material": "pex"})
    with pytest.raises(PlanError, match=r'"pexx" does not exist'):
        frosty(runs__hose=OWN | {"material": "pexx"})


GREY = {"holds": "grey", "length": "0.6 m", "width": "0.5 m", "height": "0.25 m", "z": "-0.3 m"}
WASTE = {"from": "tap", "to": "grey", "size": "corrugated waste hose 25 mm", "length": "2 m", "beside": "outside"}


@pytest.mark.parametrize(
    ("said", "stands"),
    [
        ({}, False),
        ({"slope": "2 %"}, False),
        ({"slope": "1.9 %"}, True),
        ({"slope": "0 %"}, True),
        ({"trap": True}, True),
        ({"slope": "3 %", "trap": True}, True),
        ({"size": "waste pipe 40 mm", "slope": "1 %"}, False),
        ({"size": "waste pipe 40 mm", "slope": "0.5 %"}, True),
    ],
)
def test_water_stands_in_a_waste_run_that_is_flat_or_has_a_trap(said: dict[str, object], stands: bool) -> None:
    plan = frosty(tanks__grey=GREY, runs__waste=WASTE | said)
    assert waste_runs(plan) == ("waste",)
    assert not drains(plan, "hose")
    assert exposed(plan) == (("hose", "waste") if stands else ("hose",))


def test_a_waste_run_goes_on_through_a_tee_up_to_its_tank() -> None:
    plan = frosty(
        tanks__grey=GREY,
        tees__low={},
        runs__waste=WASTE | {"to": "low"},
        runs__on=WASTE | {"from": "low", "slope": "1 %"},
        tees__dump={},
        runs__dump=WASTE | {"from": "grey", "to": "dump"},
    )
    assert waste_runs(plan) == ("waste", "on")
    assert exposed(plan) == ("hose", "on", "dump")
    assert least_slope(None) == 0.02


def test_every_stock_size_has_a_wall_of_a_known_material() -> None:
    for key, row in pipes().items():
        assert wall_material(key).conductivity > 0
        if row.wall_conductivity is not None:  # the two tables mean the same stuff
            assert row.wall_conductivity == pytest.approx(wall_material(key).conductivity, rel=0.15), key


def test_a_run_without_length_counts_as_a_metre() -> None:
    one = known(Batch(frosty(runs__hose__length=None)))
    assert np.asarray(one.pipe.length)[0] == 1.0


def test_conductance_is_that_of_the_physics_and_rows_change_it() -> None:
    rows = [Row("sleeve", {"runs.hose.foam": 0.013}), Row("inside", {"runs.hose.beside": "room"})]
    batch = Batch(frosty(site__wind="2 m/s"), rows)
    one = known(batch)
    cold = batch.number("frost.design_cold")
    inside = np.full(len(batch), 277.15)
    found = conductances(batch, [one], [Case(inside, cold), Case(inside, cold, driving=True)])
    assert found.shape == (2, 3, 1)
    hose = Pipe(length=2.0, bore=0.01, outside=0.015, wall_conductivity=0.14, foam=0.0, foam_conductivity=0.037)
    assert found[0, 0, 0] == pytest.approx(float(pipe_conductance_in_air(277.15, 263.15, hose, 2.0)), rel=1e-5)
    assert found[1, 0, 0] == pytest.approx(float(pipe_conductance_in_air(277.15, 263.15, hose, 12.5)), rel=1e-5)
    assert found[0, 1, 0] < found[0, 0, 0]
    assert found[0, 2, 0] == pytest.approx(found[1, 2, 0])  # no wind in the room
    assert conductances(batch, [], [Case(inside, cold)]).shape == (1, 3, 0)
