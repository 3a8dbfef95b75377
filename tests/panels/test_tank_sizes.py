from __future__ import annotations

from vanwater.answers.questions import answers_to
from vanwater.panels.bench import Bench
from vanwater.panels.tank_sizes import TankSizes
from vanwater.plan.file import PlanFile


def test_litres_kilograms_and_payload_are_the_answers_own(family: PlanFile) -> None:
    bench = Bench(family)
    sizes = TankSizes(bench, "grey")
    sizes.refresh()
    for wider in (False, True):
        if wider:
            bench.set("tanks.grey.length", "90 cm")
            sizes.refresh()
        numbers = answers_to(bench.plan).numbers
        keys = ("tank.grey.usable", "tank.grey.mass", "van.payload")
        told = [numbers[key].amount.text(False) for key in keys]
        assert sizes.widget.value == f"{told[0]} usable · {told[1]} full · {told[2]} payload left"


def test_it_suits_the_controls_of_a_tanks_size_alone() -> None:
    assert TankSizes.suits(("tanks.fresh.width",))
    assert TankSizes.suits(("tanks.fresh.x", "tanks.fresh.capacity"))
    assert not TankSizes.suits(("tanks.fresh.foam",))
    assert not TankSizes.suits(("runs.trunk.length",))


def test_it_turns_grey_while_the_plan_is_impossible(family: PlanFile) -> None:
    bench = Bench(family)
    sizes = TankSizes(bench, "grey")
    sizes.refresh()
    before = sizes.widget.value
    bench.set("tanks.grey.height", "15 cm")  # below its overflow
    sizes.refresh()
    assert (sizes.widget.value, sizes.widget._dom_classes[-1]) == (before, "vw-stale")
    bench.undo()
    sizes.refresh()
    assert "vw-stale" not in sizes.widget._dom_classes
