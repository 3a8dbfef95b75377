from __future__ import annotations

import numpy as np
import pytest

from tests.evening import EVENING, FAMILY, evening
from vanwater.answers.simultaneous.budget import fastest_run, set_budget
from vanwater.answers.simultaneous.sets import OpenSet
from vanwater.physics.friction import friction_loss


def losses(opened: OpenSet, outlet: str) -> dict[str, float]:
    return {piece.label: piece.loss.likely for piece in set_budget(opened.rows, outlet, opened.pressure[outlet]).pieces}


@pytest.mark.parametrize("outlet", ["shower", "galley tap"])
def test_the_pieces_add_up_to_what_drives_the_water(outlet: str) -> None:
    budget = set_budget(EVENING.rows, outlet, EVENING.pressure[outlet])
    assert np.sum([piece.loss.value for piece in budget.pieces], axis=0) == pytest.approx(budget.rise.value, abs=1e-3)
    assert budget.left.likely < 1e-3
    point = EVENING.pumps["pump"]
    assert budget.rise.value == pytest.approx(point.rise.value, rel=1e-9)  # the tank is open to the air
    each = [piece.loss.likely for piece in budget.largest_first]
    assert each == sorted(each, reverse=True)
    assert {piece.kind for piece in budget.pieces} == {"run", "fittings", "lift", "outlet"}


def test_wall_and_fittings_of_a_run_are_told_apart() -> None:
    solved, rows = EVENING.rows.solved, EVENING.rows
    pieces = losses(EVENING, "shower")
    flow = rows.now(solved.flows.run("trunk"))
    numbers = {key: rows.now(solved.of_run(key, "trunk")) for key in ("bore", "roughness", "density", "viscosity")}
    wall = friction_loss(flow=flow, length=FAMILY.runs["trunk"].length or 0.0, **numbers)
    assert pieces["trunk"] == pytest.approx(float(wall), rel=1e-9)
    speed = flow / (0.25 * np.pi * numbers["bore"] ** 2)
    k = rows.now(solved.of_run("loss_coefficient", "trunk"))
    assert pieces["fittings of the trunk"] == pytest.approx(0.5 * k * numbers["density"] * speed**2, rel=1e-9)


def test_the_lift_is_the_weight_of_the_water_on_its_way() -> None:
    lift = losses(EVENING, "shower")["lift"]
    surface = FAMILY.tanks["fresh"].z + FAMILY.tanks["fresh"].height / 2  # type: ignore[operator]
    height = FAMILY.outlets["shower"].z - surface  # type: ignore[operator]
    assert lift == pytest.approx(height * 995.0 * 9.80665, rel=0.01)  # from cold to hot the density is 999 to 983


def test_the_fastest_run_is_the_flow_over_its_bore() -> None:
    fastest = fastest_run(EVENING.rows, "shower")
    speeds = {piece.name: piece.value for piece in fastest.speed.facts}
    assert fastest.speed.likely == speeds[fastest.run].likely == max(each.likely for each in speeds.values())  # type: ignore[union-attr]
    flow = EVENING.rows.now(EVENING.rows.solved.flows.run(fastest.run))
    bore = EVENING.rows.now(EVENING.rows.solved.of_run("bore", fastest.run))
    assert fastest.speed.likely == pytest.approx(flow / (np.pi / 4 * bore**2), rel=1e-12)


def test_a_run_without_fittings_is_one_piece() -> None:
    labels = losses(evening(), "galley tap")
    assert "galley spout" in labels
    assert "fittings of the galley spout" not in labels
