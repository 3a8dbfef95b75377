"""The plumbing drawing: everything numbered, nothing over anything else, few crossings, the same bytes each time."""

from __future__ import annotations

import random
import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator, Mapping
from itertools import combinations, pairwise
from typing import Any

import pytest

from tests.examples import NAMES, example_answers
from vanwater.answers.core.key import key_text
from vanwater.answers.core.working import planned
from vanwater.answers.questions import Answers, answers_to
from vanwater.figures.layout import text_width
from vanwater.figures.roles import DARK
from vanwater.figures.schematic.drawing import LANDSCAPE, PORTRAIT, schematic
from vanwater.figures.schematic.lists import numbered_pieces, numbered_runs
from vanwater.figures.schematic.parts import Piping, Shows
from vanwater.figures.schematic.piping import piping
from vanwater.figures.schematic.placing import Box, Point, crossings, placed
from vanwater.figures.schematic.room import Area, Room
from vanwater.figures.schematic.symbols import SYMBOLS
from vanwater.plan.model import Plan
from vanwater.quantities import LENGTH
from vanwater.system.numbering import PLACES

SVG = "{http://www.w3.org/2000/svg}"
NUMBER = r"-?[\d.]+(?:e-?\d+)?"
HOP = re.compile(rf"L({NUMBER}),({NUMBER})a3,3 0 0,[01] (-?6),0")


def manifold(outlets: int) -> dict[str, Any]:
    """A van with a hot and a cold manifold and so many basins, a mixing tap at each."""
    raw: dict[str, Any] = {
        "van": {"name": "Manifold van"},
        "household": {"people": 2, "habits": "moderate"},
        "tanks": {"fresh": {"holds": "fresh", "capacity": "120 L"}, "grey": {"holds": "grey", "capacity": "90 L"}},
        "pumps": {"pump": {"stock": "medium diaphragm pump"}},
        "heaters": {"heater": {"volume": "10 L", "power": "800 W", "source": "shore"}},
        "tees": {"tee": {}, "cold manifold": {}, "hot manifold": {}},
        "mixers": {},
        "outlets": {},
        "runs": {
            "suction": {"from": "fresh", "to": "pump", "size": "pvc hose 13 mm", "length": "1 m"}
            | {"fittings": {"strainer": 1, "ball valve": 1}},
            "trunk": {"from": "pump", "to": "tee", "size": "pex 16 mm", "length": "1 m"}
            | {"fittings": {"cartridge filter": 1}},
            "cold": {"from": "tee", "to": "cold manifold", "size": "pex 16 mm", "length": "1 m"},
            "feed": {"from": "tee", "to": "heater", "size": "pex 16 mm", "length": "1 m"}
            | {"fittings": {"spring check valve": 1}},
            "hot": {"from": "heater", "to": "hot manifold", "size": "pex 16 mm", "length": "1 m"},
        },
    }
    for each in range(1, outlets + 1):
        raw["mixers"][f"mixer {each}"] = {}
        raw["outlets"][f"basin {each}"] = {"type": "basin tap"}
        for water in ("cold", "hot"):
            line = {"from": f"{water} manifold", "to": f"mixer {each}", "size": "pex 12 mm", "length": f"{each} m"}
            raw["runs"][f"{water} {each}"] = line
        raw["runs"][f"spout {each}"] = {
            "from": f"mixer {each}",
            "to": f"basin {each}",
            "bore": "8 mm",
            "length": "0.2 m",
        }
    return raw


@pytest.fixture(scope="module")
def wide() -> Answers:
    """Forty pieces and more."""
    return answers_to(Plan.of(manifold(15), file=True))


@pytest.fixture(params=[*NAMES, "forty pieces"])
def asked(request: pytest.FixtureRequest, wide: Answers) -> Answers:
    """Each example, and a van with forty pieces."""
    return wide if request.param == "forty pieces" else example_answers(request.param)


def svg(text: str) -> ET.Element:
    return ET.fromstring(text)


def texts(drawing: ET.Element) -> Iterator[tuple[str, Area]]:
    for element in drawing.iter(f"{SVG}text"):
        said, size = "".join(element.itertext()), 8.0 if element.get("class") == "vw-name" else 7.0
        x, y, wide = float(element.get("x", "0")), float(element.get("y", "0")), text_width(said, size)
        left = x - wide / 2 if element.get("text-anchor", "middle") == "middle" else x
        yield said, Area(left, y - 0.75 * size, left + wide, y)


def ways(drawing: ET.Element) -> Iterator[tuple[str, list[Point]]]:
    """Each line as its corners, hops taken straight."""
    for group in drawing.iter(f"{SVG}g"):
        if group.get("class") == "vw-run":
            for path in group.iter(f"{SVG}path"):
                if path.get("fill") == "none":
                    for stretch in HOP.sub("", path.get("d", "")).split("M")[1:]:
                        points = re.findall(rf"[ML]({NUMBER}),({NUMBER})", f"M{stretch}")
                        yield group.get("data-key", ""), [(float(x), float(y)) for x, y in points]


def hops(drawing: ET.Element) -> int:
    return sum(len(HOP.findall(path.get("d", ""))) for path in drawing.iter(f"{SVG}path"))


def test_every_part_and_every_run_has_its_number_and_stands_once(asked: Answers) -> None:
    drawn = piping(asked)
    pieces = (*drawn.pieces, *drawn.alone)
    assert sorted(piece.number for piece in pieces) == list(range(1, len(pieces) + 1))
    assert len({piece.key for piece in pieces}) == len(pieces)
    parts = {f"{table}.{name}" for table in PLACES for name in getattr(asked.plan, table)}
    assert {piece.key.replace('"', "") for piece in pieces if "fittings" not in piece.key} == parts
    assert [line.name for line in drawn.lines if line.number] and drawn.waiting == ()
    assert {line.name for line in drawn.lines if line.number} == set(asked.plan.runs)


@pytest.mark.parametrize("sheet", [LANDSCAPE, PORTRAIT], ids=["lies", "stands"])
def test_no_words_lie_over_other_words_or_under_a_line(asked: Answers, sheet: tuple[float, float]) -> None:
    drawing = svg(schematic(asked, sheet=sheet))
    said = list(texts(drawing))
    over = [(a, b) for (a, one), (b, other) in combinations(said, 2) if one.meets(other)]
    cut = [
        (a, key)
        for a, area in said
        for key, way in ways(drawing)
        for p, q in pairwise(way)
        if area.meets(Area.of(p, q))
    ]
    assert not over
    assert not cut


def test_where_two_lines_cross_one_hops_over_and_none_runs_upon_another(asked: Answers) -> None:
    drawing = svg(schematic(asked))
    lines = list(ways(drawing))
    assert hops(drawing) == len(crossings([way for _, way in lines]))
    for (key, way), (other, along) in combinations(lines, 2):
        if key == other:
            continue
        for (a, b), (c, d) in ((p, q) for p in pairwise(way) for q in pairwise(along)):
            upright = a[0] == b[0] == c[0] == d[0] and min(max(a[1], b[1]), max(c[1], d[1])) - max(
                min(a[1], b[1]), min(c[1], d[1])
            )
            level = a[1] == b[1] == c[1] == d[1] and min(max(a[0], b[0]), max(c[0], d[0])) - max(
                min(a[0], b[0]), min(c[0], d[0])
            )
            assert max(upright or 0, level or 0) <= 0, (key, other)


def test_no_more_crossings_than_the_best_of_a_thousand_random_orders(asked: Answers) -> None:
    drawn = piping(asked)
    edges = [pair for line in drawn.lines for pair in pairwise(line.places)]
    assert hops(svg(schematic(asked))) <= best_at_random(edges, random.Random(7), 1000)


def best_at_random(edges: list[tuple[str, str]], draw: random.Random, tries: int) -> int:
    """The fewest crossings of layers by the longest way, each in a random order, long lines through every layer."""
    places = list(dict.fromkeys(place for edge in edges for place in edge))
    depth = dict.fromkeys(places, 0)
    for _ in places:
        for start, end in edges:
            depth[end] = max(depth[end], depth[start] + 1)
    layers: dict[int, list[str]] = {}
    for place in places:
        layers.setdefault(depth[place], []).append(place)
    steps: dict[int, list[tuple[str, str]]] = {}
    for number, (start, end) in enumerate(edges):
        chain = [start, *(f"{number}/{level}" for level in range(depth[start] + 1, depth[end])), end]
        for level, pair in enumerate(pairwise(chain), depth[start]):
            steps.setdefault(level, []).append(pair)
            if "/" in pair[1] and pair[1] not in layers.setdefault(level + 1, []):
                layers[level + 1].append(pair[1])
    fewest = 10**9
    for _ in range(tries):
        at: dict[str, int] = {}
        for layer in layers.values():
            draw.shuffle(layer)
            at.update({place: order for order, place in enumerate(layer)})
        crossed = sum(
            (at[a] - at[c]) * (at[b] - at[d]) < 0
            for pairs in steps.values()
            for (a, b), (c, d) in combinations(pairs, 2)
        )
        fewest = min(fewest, crossed)
    return fewest


def test_on_a_sheet_of_paper_its_letters_can_be_read(asked: Answers) -> None:
    for wide, high in (LANDSCAPE, PORTRAIT):
        _, _, width, height = map(float, svg(schematic(asked, sheet=(wide, high))).get("viewBox", "").split())
        assert min(wide / width, high / height) > (0.65 if len(asked.plan.outlets) < 10 else 0.3)


def test_forty_pieces_are_forty(wide: Answers) -> None:
    assert len(piping(wide).pieces) >= 40


def test_water_is_hot_behind_the_heater_and_mixed_behind_the_mixing_tap() -> None:
    drawn = piping(example_answers("family-winter"))
    waters: Mapping[str, str] = {line.name: line.water for line in drawn.lines}
    assert waters["suction"] == waters["heater feed"] == waters["basin line"] == waters["cold galley line"] == "cold"
    assert waters["hot trunk"] == waters["hot shower line"] == "hot"
    assert waters["handset hose"] == waters["galley spout"] == "mixed"


def test_a_waste_run_and_a_run_back_line() -> None:
    raw = manifold(1)
    raw["runs"]["drain"] = {"from": "basin 1", "to": "grey", "bore": "25 mm", "length": "1 m"}
    raw["runs"]["back"] = {"from": "hot manifold", "to": "fresh", "bore": "8 mm", "length": "2 m", "run_back": True}
    drawn = piping(answers_to(Plan.of(raw, file=True)))
    waters = {line.name: line.water for line in drawn.lines}
    assert (waters["drain"], waters["back"]) == ("waste", "hot")
    assert not drawn.alone


def test_the_same_bytes_each_time() -> None:
    asked = example_answers("family-winter")
    assert schematic(asked) == schematic(answers_to(asked.plan))


def test_losses_are_those_of_the_answers() -> None:
    asked = example_answers("family-winter")
    loss = asked.numbers["run.trunk.loss.shower"].amount.text()
    group = next(g for g in svg(schematic(asked, shows="loss")).iter(f"{SVG}g") if g.get("data-key") == "runs.trunk")
    assert [element.text for element in group.iter(f"{SVG}text")][1] == loss
    with pytest.raises(KeyError, match="no outlet"):
        schematic(asked, outlet="bath")


@pytest.mark.parametrize("shows", ["size", "loss"])
def test_a_title_tells_size_length_and_loss_whatever_stands_beside_the_run(shows: Shows) -> None:
    asked = example_answers("family-winter")
    drawing = svg(schematic(asked, shows=shows, outlet="galley tap"))
    titles = {group.get("data-key"): group.findtext(f"{SVG}title") or "" for group in drawing.iter(f"{SVG}g")}
    run, lost = asked.plan.runs["trunk"], asked.numbers[key_text(("run", "trunk", "loss", "galley tap"))].amount.text()
    assert run.size and run.size.split()[-2] in titles["runs.trunk"]
    assert (
        f"{planned(asked.plan, 'runs.trunk.length', LENGTH).amount.text()}, takes {lost} with galley tap open"
        in (titles["runs.trunk"])
    )
    (away,) = (title for title in titles.values() if "shower line, hot" in title)  # not in the way
    assert "takes" not in away


def test_its_colours_are_those_that_a_dark_page_replaces(asked: Answers) -> None:
    drawing = svg(schematic(asked))
    names = {f"--vw-{name}" for name in DARK}
    painted = [element.get(side) for element in drawing.iter() for side in ("fill", "stroke") if element.get(side)]
    painted += re.findall(r"(?:fill|stroke):([^;}]+)", drawing.findtext(f".//{SVG}style") or "")
    assert len(painted) > 5 and "var(--vw-paper,#ffffff)" in painted
    assert painted
    for paint in painted:
        if paint != "none":
            name, _, rest = str(paint).removeprefix("var(").partition(",")
            assert name in names and re.fullmatch(r"#[0-9a-f]{6}\)", rest), paint


def test_in_us_units_nothing_metric_stands() -> None:
    drawing = schematic(example_answers("family-winter").read_in(True), us=True)
    said = " ".join(text for text, _ in texts(svg(drawing)))
    assert all(f"\N{NO-BREAK SPACE}{unit}" in said for unit in ("gal", "ft", "psi"))
    assert not re.search("\\d\N{NO-BREAK SPACE}(?:L|m|bar)\\b", said)


def test_a_plans_own_text_is_only_text() -> None:
    raw = manifold(1)
    raw["van"]["name"] = "<script>alert(1)</script>&]]>"
    raw["outlets"]["ברז 1"] = raw["outlets"].pop("basin 1")
    raw["runs"]["spout 1"]["to"] = "ברז 1"
    drawing = schematic(answers_to(Plan.of(raw, file=True)))
    tags = {element.tag.removeprefix(SVG) for element in svg(drawing).iter()}
    assert tags == {"svg", "title", "desc", "style", "g", "path", "circle", "text"}
    assert "<script" not in drawing and "&lt;script&gt;" in drawing and ">ברז 1</text>" in drawing


def test_half_a_plan_is_drawn_as_far_as_it_goes() -> None:
    raw = manifold(2)
    del raw["heaters"]
    drawn = piping(answers_to(Plan.of(raw, file=True)))
    assert set(drawn.waiting) == {"feed", "hot"}
    assert "Not drawn" in schematic(answers_to(Plan.of(raw, file=True)))
    alone = {
        "van": {"name": "v"},
        "household": {"people": 1},
        "tanks": {"fresh": {"holds": "fresh", "capacity": "9 L"}},
    }
    assert "No run of this plan leads to it" in schematic(answers_to(Plan.of(alone, file=True)))


def test_the_lists_name_every_number(asked: Answers) -> None:
    drawn: Piping = piping(asked)
    pieces, runs = numbered_pieces(drawn), numbered_runs(asked.plan, drawn)
    assert len(pieces.rows) == len(drawn.pieces) + len(drawn.alone)
    assert [row[0] for row in runs.rows] == [f"R{number}" for number in range(1, len(asked.plan.runs) + 1)]


def test_a_symbol_lies_within_its_size() -> None:
    for kind, symbol in SYMBOLS.items():
        for x, y in re.findall(rf"[ML]({NUMBER}),({NUMBER})", symbol.outline + symbol.solid + symbol.dashed):
            assert abs(float(x)) <= symbol.width / 2 + 0.6 and abs(float(y)) <= symbol.height / 2 + 0.6, kind
        assert symbol.says


def test_crossings_of_a_level_and_an_upright_line() -> None:
    level, upright, beside = [(0.0, 5.0), (9.0, 5.0)], [(4.0, 0.0), (4.0, 9.0)], [(11.0, 0.0), (11.0, 9.0)]
    assert crossings([level, upright, beside]) == [(0, 1, (4.0, 5.0))]


def test_layers_follow_the_water_and_are_the_same_each_time() -> None:
    boxes = {name: Box(20, 20) for name in "abc"}
    joins = [("a", "b", None), ("b", "c", Box(30, 12)), ("a", "c", None)]
    laid = placed(boxes, joins, Box(500, 100))
    assert laid.centres["a"][0] < laid.centres["b"][0] < laid.centres["c"][0]
    assert laid == placed(boxes, joins, Box(500, 100))


def test_words_move_aside_for_what_is_there() -> None:
    way = [(0.0, 50.0), (100.0, 50.0)]
    free = Room([], [way]).first([0], [[20, 20]], 8)
    assert free == (0, [(50.0, 46.5), (50.0, 58.0)])
    _, held = Room([Area(40, 30, 60, 70)], [way]).first([0], [[20, 20]], 8)
    assert held != free[1] and all(not Area(40, 30, 60, 70).meets(Area(x - 10, y - 6, x + 10, y)) for x, y in held)


def test_words_that_find_no_room_give_way_to_a_number() -> None:
    way = [(0.0, 50.0), (100.0, 50.0)]
    around = [Area(-200, -50, 45, 150), Area(55, -50, 300, 150)]
    assert Room(around, [way]).first([0], [[40, 20], [9]], 8)[0] == 1


def test_a_long_row_of_tees_that_does_not_fold_runs_down_and_every_line_meets_its_tee() -> None:
    raw = manifold(0)
    before = "cold manifold"
    for each in range(1, 8):
        tee = f"tee behind the wardrobe number {each}"
        raw["tees"][tee], raw["outlets"][f"washbasin number {each}"] = {}, {"type": "basin tap"}
        for name, start, end in ((f"sill {each}", before, tee), (f"up {each}", tee, f"washbasin number {each}")):
            raw["runs"][name] = {"from": start, "to": end, "size": "pex 12 mm", "length": "1 m"}
        before = tee
    drawing = svg(schematic(answers_to(Plan.of(raw, file=True)), sheet=PORTRAIT))
    width, height = (float(size) for size in drawing.get("viewBox", "").split()[2:])
    assert min(PORTRAIT[0] / width, PORTRAIT[1] / height) > 0.3
    ends = [point for _, way in ways(drawing) for point in (way[0], way[-1])]
    for piece in drawing.iter(f"{SVG}g"):
        if piece.get("data-key", "").startswith("tees.tee behind"):
            moved = next(each.get("transform", "") for each in piece if each.get("transform"))
            x, y = (float(number) for number in re.findall(NUMBER, moved))
            assert sum(abs(end[0] - x) < 0.2 and abs(end[1] - y) < 13 for end in ends) >= 2
