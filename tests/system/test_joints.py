from __future__ import annotations

import pytest
from hypothesis import given

from tests.examples import example
from tests.strategies import connections
from vanwater.plan.joint import read_joint
from vanwater.plan.supply import Run
from vanwater.plan.tables import fittings, pipes
from vanwater.system.joints import adapters, ends, fits, holds, mates, usual_joint


def run(**said: object) -> Run:
    return Run.model_validate({"from": "a", "to": "b", **said})


@pytest.mark.parametrize(
    ("fitting", "size", "good"),
    [
        ("push-fit elbow", "pvc hose 10 mm", False),
        ("push-fit elbow", "silicone hose 13 mm", False),
        ("push-fit elbow", "pex 12 mm", True),
        ("push-fit tee run", "polyamide tube 12 mm", True),
        ("push-fit coupling", "copper 15 mm", True),
        ("push-fit coupling", "multilayer 16 mm", False),
        ("barb elbow", "pvc hose 10 mm", True),
        ("barb elbow", "pex 12 mm", False),
        ("barb coupling", "pex 12 mm", True),  # a stiffener
        ("barb coupling", "copper 12 mm", False),
        ("press elbow", "multilayer 16 mm", True),
        ("press elbow", "pex 16 mm", True),
        ("press elbow", "pex 1/2 in", False),
        ("metal crimp elbow 1/2 in", "pex 1/2 in", True),
        ("metal crimp elbow 1/2 in", "pex 3/4 in", False),
        ("metal crimp elbow 1/2 in", "pex 16 mm", False),
        ("metal crimp elbow", "pex 3/4 in", True),
        ("metal crimp elbow", "pex 16 mm", False),
        ("plastic crimp elbow", "pvc hose 12.5 mm", False),
        ("sweep bend", "copper 12 mm", True),
        ("strainer", "pvc hose 10 mm", True),
        ("ball valve", "copper 12 mm", False),
    ],
)
def test_what_holds_on_what(fitting: str, size: str, good: bool) -> None:
    assert holds(fittings()[fitting], pipes()[size]) is good


def test_nothing_of_the_supply_holds_on_a_waste_pipe() -> None:
    ends_of_it = [row for row in fittings().values() if row.joint in ("barb", "push-fit", "press", "crimp")]
    waste = [row for row in pipes().values() if row.kind == "drain"]
    assert ends_of_it and waste
    assert not any(holds(row, pipe) for row in ends_of_it for pipe in waste)


@pytest.mark.parametrize(
    ("text", "said", "good"),
    [
        ("barb 13 mm", {"size": "pvc hose 12.5 mm"}, True),
        ("barb 12 mm", {"size": "pvc hose 13 mm"}, False),
        ("barb 12 mm", {"size": "pvc hose 10 mm"}, False),
        ("push-fit 12 mm", {"size": "pex 12 mm"}, True),
        ("push-fit 15 mm", {"size": "pex 12 mm"}, False),
        ("push-fit 16 mm", {"size": "pex 1/2 in"}, False),
        ("push-fit 15.9 mm", {"size": "pex 1/2 in"}, True),
        ("push-fit 1/2 in", {"size": "pex 1/2 in"}, True),
        ("push-fit 1/2 in", {"size": "pex 3/8 in"}, False),  # whose outside is 1/2 in
        ("crimp 1/2 in", {"size": "pex 1/2 in"}, True),
        ("crimp 3/8 in", {"size": "pex 1/2 in"}, False),
        ("compression 15 mm", {"size": "copper 15 mm"}, True),
        ("push-fit 12 mm", {"size": "pvc hose 10 mm"}, False),
        ("barb 13 mm", {"bore": "13 mm"}, True),
        ("barb 19 mm", {"bore": "13 mm"}, False),
        ("push-fit 12 mm", {"bore": "9 mm", "outside": "12 mm"}, True),
        ("push-fit 12 mm", {}, True),
    ],
)
def test_plain_ends_fit_by_kind_and_size(text: str, said: dict[str, str], good: bool) -> None:
    assert fits(read_joint(text), run(**said)) is good


@pytest.mark.parametrize(
    ("one", "other", "good"),
    [
        ("BSP 1/2 in male", "BSP 1/2 in female", True),
        ("BSP 1/2 in male", "BSP 1/2 in male", False),
        ("BSP 1/2 in male", "NPT 1/2 in female", False),
        ("BSP 1/2 in male", "BSP 3/8 in female", False),
        ("M22 x 1.5 male", "M22 x 1.5 female", True),
        ("M22 x 1.5 male", "M22 x 1 female", False),
        ("barb 13 mm", "barb 13 mm", True),
        ("barb 13 mm", "push-fit 13 mm", False),
        ("barb 13 mm", "BSP 1/2 in male", False),
    ],
)
def test_what_mates(one: str, other: str, good: bool) -> None:
    assert mates(read_joint(one), read_joint(other)) is good


@given(one=connections(), other=connections())
def test_mating_is_mutual_and_each_connection_has_its_mate(one: str, other: str) -> None:
    first, second = read_joint(one), read_joint(other)
    assert mates(first, second) is mates(second, first)
    assert mates(first, read_joint(first.turned))


def test_adapters_are_couplings_that_hold_and_own_fittings() -> None:
    family = example("family-winter")
    hose = pipes()["pvc hose 12.5 mm"]
    assert adapters(family, run(fittings={"barb coupling": 2, "barb elbow": 1, "push-fit coupling": 1}), hose) == 2
    assert adapters(family, run(fittings={"threaded coupling": 1, "reducer": 1}), hose) == 2
    own = family.changed({"fittings.tail": {"k": 0.4}})
    assert adapters(own, run(fittings={"tail": 2}), hose) == 2


def test_ends_know_their_pieces() -> None:
    plan = example("family-winter").changed(
        {"pumps.pump.joint": "BSP 1/2 in male", "runs.suction.end_joint": "barb 13 mm"}
    )
    start, end = ends(plan, "suction")
    assert (start.which, start.place, start.own, start.port) == ("start", "fresh", None, None)
    assert (end.which, end.place, end.own, end.port) == ("end", "pump", "barb 13 mm", "BSP 1/2 in male")


@pytest.mark.parametrize(
    ("said", "usual"),
    [
        ({"bore": "11 mm", "material": "pvc soft"}, "barb"),
        ({"bore": "11 mm", "material": "silicone"}, "barb"),
        ({"bore": "11 mm", "material": "epdm"}, "barb"),
        ({"bore": "9 mm", "outside": "12 mm", "material": "polyamide"}, "push-fit"),
        ({"bore": "10 mm", "outside": "12 mm", "material": "copper"}, "push-fit"),
        ({"bore": "9 mm", "outside": "12 mm", "material": "polyethylene soft"}, "push-fit"),
        ({"bore": "9 mm", "outside": "13 mm", "material": "polyamide"}, None),  # no stock has it
        ({"bore": "9 mm", "material": "polyamide"}, None),
        ({"bore": "9 mm", "outside": "12 mm", "material": "stainless steel"}, None),
        ({"bore": "9 mm", "outside": "12 mm"}, None),
        ({"size": "pex 1/2 in"}, "crimp"),
    ],
)
def test_the_usual_joint_of_a_bore_of_its_own_goes_by_its_material(said: dict[str, str], usual: str | None) -> None:
    assert usual_joint(run(**said)) == usual


@pytest.mark.parametrize(
    ("text", "said", "good"),
    [
        ("barb 11 mm", {"bore": "11 mm", "material": "epdm"}, True),
        ("push-fit 15 mm", {"bore": "11 mm", "outside": "15 mm", "material": "epdm"}, False),
        ("push-fit 12 mm", {"bore": "9 mm", "outside": "12 mm", "material": "polyamide"}, True),
        ("barb 9 mm", {"bore": "9 mm", "outside": "12 mm", "material": "polyamide"}, False),
        ("barb 9 mm", {"bore": "9 mm", "outside": "13 mm", "material": "polyamide"}, False),
        ("barb 9 mm", {"bore": "9 mm", "outside": "12 mm"}, True),  # nothing says what it is
    ],
)
def test_a_bore_of_its_own_fits_by_its_material(text: str, said: dict[str, str], good: bool) -> None:
    assert fits(read_joint(text), run(**said)) is good
