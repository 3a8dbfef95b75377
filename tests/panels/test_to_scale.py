"""The van to scale on a bench: that of the answers; a plan without places has no tab of it."""

from __future__ import annotations

from vanwater.answers.questions import answers_to
from vanwater.figures.to_scale.drawing import to_scale
from vanwater.panels.bench import Bench
from vanwater.panels.to_scale import has_places, scale_svg
from vanwater.plan.file import PlanFile
from vanwater.plan.model import Plan


def test_it_is_the_drawing_of_the_answers_and_follows(family: PlanFile) -> None:
    bench = Bench(family)
    before = scale_svg(bench, bench.ask)
    assert has_places(bench) and before == to_scale(answers_to(bench.plan), bench.us)
    bench.set("tanks.grey.x", "2.95 m")
    moved = scale_svg(bench, bench.ask)
    assert ">2.95</text>" in moved and ">2.95</text>" not in before
    assert moved == to_scale(answers_to(bench.plan), bench.us)  # the centre of mass follows too


def test_without_places_there_is_nothing_to_draw() -> None:
    assert not has_places(Bench(Plan.of({"van": {"name": "empty"}, "household": {"people": 2}})))
