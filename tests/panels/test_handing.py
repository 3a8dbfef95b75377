"""What is handed on is what stands on the bench: values that were moved, the situation that is chosen."""

from __future__ import annotations

import csv
import html
import io
import re
from pathlib import Path

import pytest

from tests.panels.conftest import example_file
from vanwater.answers.core.number import Number
from vanwater.answers.parts.answer import Parts
from vanwater.answers.questions import QUESTIONS, answers_to
from vanwater.command import main
from vanwater.document.output_file import PAPERS
from vanwater.document.writings import WRITINGS
from vanwater.panels.bench import Bench
from vanwater.panels.hand_on import mail_line
from vanwater.panels.panel import Panel
from vanwater.plan.file import PlanFile, read
from vanwater.plan.fingerprint import fingerprint
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError

MOVES: dict[str, dict[str, str | int]] = {
    "": {"household.people": 5, "tanks.grey.length": "90 cm"},
    "ski week": {"household.people": 6, "site.cold_water": "4 °C"},
}
"""What a hand moves in each situation; the cold water is a value that the situation says itself."""


@pytest.fixture(scope="module", params=MOVES, ids=lambda name: name or "as written")
def moved(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Bench:
    """A bench of an own plan with its hand in a situation."""
    path = tmp_path_factory.mktemp("van") / "van.toml"
    path.write_bytes(example_file("family-winter").data)
    bench = Bench(read(path))
    bench.choose(request.param)
    for address, value in MOVES[request.param].items():
        bench.set(address, value)
    return bench


@pytest.fixture(scope="module")
def papers(moved: Bench) -> dict[str, str]:
    """The words of everything that is written of it, by key."""
    return {key: words(moved.hand_on(key)[0]) for key in WRITINGS}


def words(place: Path) -> str:
    """What a reader sees of a paper, a drawing or a table."""
    text = re.sub(r"<style\b.*?</style>", " ", place.read_text(encoding="utf-8"), flags=re.DOTALL)
    return plainly(html.unescape(re.sub(r"<[^>]+>", " ", text)))


def plainly(text: str) -> str:
    return re.sub(r"\s+", " ", text)


def told(number: Number) -> str:
    return plainly(number.amount.text(False))


def test_verdicts_and_key_numbers_on_paper_are_those_of_the_panel(moved: Bench, papers: dict[str, str]) -> None:
    panel = Panel(moved, "stay")
    verdict = plainly(moved.ask("stay").verdict.text(False))
    assert plainly(html.unescape(re.sub("<[^>]+>", "", panel.verdict.value))).startswith(verdict)
    for paper in ("customer", "file"):
        assert verdict in papers[paper], paper
    firsts = [next(iter(question.glance(moved.ask(key))), None) for key, question in QUESTIONS.items()]
    shown = [plainly(number.shown.text(False)) for number in firsts if number is not None]
    assert len(shown) >= 5 and [text for text in shown if text not in papers["file"]] == []
    assert verdict in plainly(mail_line(moved))


def test_no_number_of_the_saved_plan_is_handed_on(moved: Bench, papers: dict[str, str]) -> None:
    """What the moves have changed stands there as it is now; the plan as it was saved would say something else."""
    saved, now = moved.saved_answers, moved.answers
    assert saved.plan.situation == now.plan.situation == moved.state.situation
    turned = plainly(saved.headline.text(False)), plainly(now.headline.text(False))
    assert turned[0] != turned[1]
    for paper in ("customer", "file"):
        assert turned[1] in papers[paper] and turned[0] not in papers[paper], paper
    assert turned[0] in papers["change"] and turned[1] in papers["change"]


def test_the_list_of_parts_and_the_drawings_are_of_the_same_plan(moved: Bench, papers: dict[str, str]) -> None:
    answer = moved.ask("parts")
    assert isinstance(answer, Parts)
    (place,) = (each for each in moved.hand_on("parts") if each.suffix == ".csv")
    rows = list(csv.DictReader(io.StringIO(place.read_text(encoding="utf-8-sig"))))
    hoses = [float(row["quantity"]) for row in rows if row["what"] == "hose or pipe"]
    assert hoses == pytest.approx([size.order.likely for size in answer.sizes])
    drawn = re.sub(r"<(style|desc)\b.*?</\1>", "", moved.drawing().piece.html, flags=re.DOTALL)  # type: ignore[union-attr]
    sizes = set(re.findall(r"\d[\d.]*\sm\b", plainly(html.unescape(re.sub(r"<[^>]+>", " ", drawn)))))
    assert len(sizes) > 5 and sizes <= set(re.findall(r"\d[\d.]*\sm\b", papers["schematic"]))


def test_the_copy_of_the_plan_is_the_plan_of_the_bench(moved: Bench) -> None:
    place = next(each for each in moved.hand_on("tags") if each.suffix == ".toml")
    situation = moved.state.situation
    copy = read(place).plan
    there = copy.in_situation(situation) if situation else copy
    assert fingerprint(there) == fingerprint(moved.plan)
    own, shown = answers_to(there).numbers, moved.answers.numbers
    assert {key: told(number) for key, number in own.items()} == {key: told(number) for key, number in shown.items()}
    assert read(moved.file.path).text == moved.file.text  # type: ignore[union-attr]


def test_whatever_a_situation_says_itself_is_moved_there_in_the_copy(family: PlanFile) -> None:
    moves = 0
    for situation, overlay in family.plan.overlays.items():
        bench = Bench(family)
        bench.choose(situation)
        for address in (each for each, value in overlay.values.items() if isinstance(value, str)):
            saved = bench.value(address)
            if isinstance(saved, float) and saved:
                bench.home()
                bench.set(address, saved * 1.002)
                if bench.refused is None:
                    moves += 1
                    there = bench.handed().plan.in_situation(situation)
                    assert there.at(address) == pytest.approx(bench.plan.at(address), rel=1e-4)
                    assert there.at(address) != saved
                    assert bench.handed().plan.at(address) == family.plan.at(address)  # as written it stays
    assert moves > 10


def test_a_change_order_begins_where_it_is_told(own_file: PlanFile) -> None:
    bench = Bench(own_file)
    bench.set("household.people", 2)
    assert bench.keep("two of them") == "B"
    bench.set("household.people", 3)
    verdicts = {people: bench_of(own_file, people) for people in (2, 3, 4)}
    for since, before in (("A", 4), ("B", 2)):
        place, _ = bench.hand_on("change", since=since)
        text = words(place)
        assert verdicts[before] in text and verdicts[3] in text, since
        assert all(verdict not in text for people, verdict in verdicts.items() if people not in (before, 3))
    with pytest.raises(KeyError, match="No variant is called"):
        bench.hand_on("change", since="D")


def bench_of(file: PlanFile, people: int) -> str:
    return plainly(answers_to(file.plan.changed({"household.people": people}))["stay"].verdict.text(False))


def test_the_command_writes_the_same_files_to_the_byte(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    typed, handed = tmp_path / "typed", tmp_path / "handed"
    for folder in (typed, handed):
        folder.mkdir()
        (folder / "van.toml").write_bytes(example_file("weekend-cans").data)
    monkeypatch.chdir(typed)
    there = ("van.toml", "--situation", "late frost")
    for words_typed in (("document", "--for", "all"), ("card",), ("draw",), ("draw", "--view", "scale")):
        assert main([words_typed[0], *there, *words_typed[1:]]) == 0
    bench = Bench(read(handed / "van.toml"))
    bench.choose("late frost")
    bench.hand_on(*PAPERS, "card", "schematic", "scale")
    files = [{place.name: place.read_bytes() for place in folder.iterdir()} for folder in (typed, handed)]
    assert len(files[0]) == 7 and files[0] == files[1]


def test_it_goes_where_it_is_told_in_the_form_that_is_wanted(own_file: PlanFile, tmp_path: Path) -> None:
    bench, folder = Bench(own_file, us=True), tmp_path / "papers"
    folder.mkdir()
    written = bench.hand_on("workshop", "scale", form="md", folder=str(folder))
    assert [place.relative_to(folder).name for place in written] == [
        "van workshop.md",
        "van scale.svg",
        "van handed on.toml",
    ]
    assert "ft" in words(written[1]) or " in" in words(written[1])


def test_a_drawing_may_show_what_the_open_outlet_takes(own_file: PlanFile) -> None:
    bench = Bench(own_file)
    (place,) = bench.hand_on("schematic", shows="loss", outlet="basin tap")
    loss = bench.ask("outlets").numbers['run.trunk.loss."basin tap"']
    assert f"takes {told(loss)}" in words(place)
    with pytest.raises(KeyError, match="bath"):
        bench.hand_on("schematic", shows="loss", outlet="bath")


def test_what_is_no_writing_no_form_or_no_possible_plan_is_refused(own_file: PlanFile) -> None:
    bench = Bench(own_file)
    with pytest.raises(KeyError, match=r"no 'cards' to be written; there are .*card"):
        bench.hand_on("cards")
    with pytest.raises(KeyError, match=r"no 'doc' to be written; there are html, md, pdf"):
        bench.hand_on("card", form="doc")
    bench.set("tanks.grey.height", "10 cm")
    with pytest.raises(PlanError):
        bench.hand_on("parts")
    with pytest.raises(PlanError, match="not read from a file"):
        Bench(Plan.of({"van": {"name": "bare"}, "household": {"people": 2}})).hand_on(*PAPERS)
    assert [path.name for path in own_file.path.parent.iterdir()] == ["van.toml"]
