from __future__ import annotations

import numpy as np
import pytest

from tests.evening import EVENING, FAMILY, evening
from vanwater.answers.simultaneous.budget import fastest_run, set_budget
from vanwater.physics.friction import friction_loss


@pytest.mark.parametrize("outlet", ["shower", "galley tap"])
def test_the_pieces_add_up_to_what_drives_the_water(outlet: str) -> None:
    found = set_budget(EVENING.rows, outlet)
    assert sum(piece.loss for piece in found.pieces) == pytest.approx(found.rise, abs=1e-3)
    assert found.residual < 1e-3
    point = EVENING.pumps["pump"]
    assert found.rise == pytest.approx(point.rise.likely, rel=1e-9)  # the tank is open to the air
    losses = [piece.loss for piece in found.largest_first]
    assert losses == sorted(losses, reverse=True)
    assert {piece.kind for piece in found.pieces} == {"run", "fittings", "lift", "outlet"}


def test_wall_and_fittings_of_a_run_are_told_apart() -> None:
    solved, rows = EVENING.rows.solved, EVENING.rows
    pieces = {piece.label: piece.loss for piece in set_budget(rows, "shower").pieces}
    flow = rows.now(solved.flows.run("trunk"))
    numbers = {key: rows.now(solved.of_run(key, "trunk")) for key in ("bore", "roughness", "density", "viscosity")}
    wall = friction_loss(flow=flow, length=FAMILY.runs["trunk"].length or 0.0, **numbers)
    assert pieces["trunk"] == pytest.approx(float(wall), rel=1e-9)
    speed = flow / (0.25 * np.pi * numbers["bore"] ** 2)
    k = rows.now(solved.of_run("loss_coefficient", "trunk"))
    assert pieces["fittings of the trunk"] == pytest.approx(0.5 * k * numbers["density"] * speed**2, rel=1e-9)


def test_the_lift_is_the_weight_of_the_water_on_its_way() -> None:
    lift = next(piece.loss for piece in set_budget(EVENING.rows, "shower").pieces if piece.kind == "lift")
    surface = FAMILY.tanks["fresh"].z + FAMILY.tanks["fresh"].height / 2  # type: ignore[operator]
    height = FAMILY.outlets["shower"].z - surface  # type: ignore[operator]
    assert lift == pytest.approx(height * 995.0 * 9.80665, rel=0.01)  # from cold to hot the density is 999 to 983


def test_the_fastest_run_is_the_flow_over_its_bore() -> None:
    found = fastest_run(EVENING.rows, "shower")
    speeds = dict(found.each)
    assert found.speed == max(speeds.values()) == speeds[found.run]
    flow = EVENING.rows.now(EVENING.rows.solved.flows.run(found.run))
    bore = EVENING.rows.now(EVENING.rows.solved.of_run("bore", found.run))
    assert found.speed == pytest.approx(flow / (np.pi / 4 * bore**2), rel=1e-12)


def test_a_run_without_fittings_is_one_piece() -> None:
    labels = [piece.label for piece in set_budget(evening().rows, "galley tap").pieces]
    assert "galley spout" in labels
    assert "fittings of the galley spout" not in labels
