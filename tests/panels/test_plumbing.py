from __future__ import annotations

import pytest

from vanwater.answers.questions import answers_to
from vanwater.figures.schematic.drawing import PORTRAIT, schematic
from vanwater.panels.bench import Bench
from vanwater.panels.plumbing import NONE, plumbing_svg
from vanwater.plan.file import PlanFile
from vanwater.plan.model import Plan


def test_it_is_the_drawing_of_the_answers(example: PlanFile) -> None:
    bench = Bench(example)
    answers = answers_to(bench.plan)
    for shows in ("size", "loss"):
        made = schematic(answers, bench.us, shows, sheet=PORTRAIT)
        assert plumbing_svg(bench, bench.ask, shows) == made
        assert made in bench.drawing(shows).piece.html  # type: ignore[union-attr]


def test_it_follows_and_keeps_what_was_possible(family: PlanFile) -> None:
    bench = Bench(family)
    live = bench.drawing("loss", "basin tap")
    before = live.piece
    keys = {number.key: number.likely for number in live.numbers}
    assert (
        keys[("run", "trunk", "loss", "basin tap")] == bench.ask("outlets").numbers['run.trunk.loss."basin tap"'].likely
    )
    bench.set("runs.trunk.length", "8.3 m")
    assert "8.3\N{NO-BREAK SPACE}m" in live._bundle()["text/html"]
    bench.set("tanks.grey.height", "10 cm")
    assert bench.refused is not None
    assert live.piece == before
    assert "Not possible" in live._bundle()["text/plain"]


def test_the_losses_that_a_pointer_is_told_are_numbers_of_it_too(family: PlanFile) -> None:
    told = {number.key for number in Bench(family).drawing("size", "basin tap").numbers}
    assert ("run", "trunk", "loss", "basin tap") in told


def test_what_has_no_run_or_no_such_outlet_says_so(family: PlanFile) -> None:
    bare = Bench(Plan.of({"van": {"name": "empty"}, "household": {"people": 2}}))
    assert bare.drawing().piece.text == NONE
    with pytest.raises(KeyError, match="bath"):
        Bench(family).drawing(outlet="bath")
