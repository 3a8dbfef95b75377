"""The drawing to scale: what it shows lies where the plan says, the rest is listed, nothing lies over anything else."""

from __future__ import annotations

import re
import time
import xml.etree.ElementTree as ET
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tests.drawn import WHOLE_PLANS
from tests.examples import NAMES, example_answers
from tests.figures.scaled import SVG, Seen, covered, lines, over, parts, words
from tests.strategies import plans
from vanwater.answers.core.escaping import plain
from vanwater.answers.questions import Answers
from vanwater.answers.weight.question import QUESTION as WEIGHT
from vanwater.figures.roles import DARK
from vanwater.figures.themed import themed
from vanwater.figures.to_scale.drawing import SHEET, to_scale
from vanwater.figures.to_scale.lists import places, without_place
from vanwater.figures.to_scale.parts import VIEWS
from vanwater.figures.to_scale.places import placed_van
from vanwater.figures.to_scale.scale import scales
from vanwater.plan.model import Plan
from vanwater.quantities import FOOT, INCH, NO_BREAK, PLACE
from vanwater.system.numbering import PLACES

SYSTEMS = pytest.mark.parametrize("us", [False, True], ids=["metric", "us"])
UNITS = {"m": 1.0, "cm": 0.01, "ft": FOOT, "in": INCH}

POINT = 0.02
"""Points by which a rounded place and a rounded origin may differ from the plan's."""


def asked_of(plan: Plan) -> Answers:
    """The plan with what a drawing to scale needs of its answers."""
    return Answers(plan, {"weight": WEIGHT.ask(plan)})


def van(**tables: Any) -> Plan:
    raw: dict[str, Any] = {"van": {"name": "Van"}, "household": {"people": 2}, **tables}
    return Plan.of(raw, file=True)


def drawing(asked: Any, us: bool = False) -> ET.Element:
    return ET.fromstring(to_scale(asked, us))


def measured(plan: Plan, key: str, seen: Seen) -> list[tuple[float, float]]:
    """What is drawn beside what the plan says [m]: middle along and up, sides along and up."""
    part, pairs = plan.at(key), []
    axes = VIEWS[seen.view]  # type: ignore[index]
    sides: dict[str, float | None] = dict.fromkeys(axes)
    if seen.sides is not None and key.startswith("heaters."):
        sides = {"x": part.length, "y": part.width, "z": part.height}
    elif seen.sides is not None:
        along, across = part.footprint
        sides = {"x": getattr(part, along), "y": getattr(part, across), "z": part.inside_height}
    for place, axis in enumerate(axes):
        middle = getattr(part, axis) + ((sides[axis] or 0.0) / 2 if axis == "z" else 0.0)
        pairs.append((seen.spot[place], middle))
        if seen.sides is not None:
            pairs.append((seen.sides[place], sides[axis] or 0.0))
    return pairs


def check(plan: Plan, us: bool) -> None:
    """What every drawing to scale holds."""
    asked = asked_of(plan)
    text = to_scale(asked, us)
    root, known = ET.fromstring(text), placed_van(asked)
    shown = list(parts(root))
    wide, high = (float(side) for side in root.get("viewBox", "").split()[2:])
    assert wide <= SHEET[0] + 4.0
    points = next(
        (float(view.get("data-points", "0")) for view in root.iter(f"{SVG}g") if view.get("data-points")), 1.0
    )
    keys = {plain(part.key, "terminal"): part.key for part in known.parts}
    for seen in shown:
        key = keys[seen.key]
        if not key.startswith("pumps.") or plan.at(key).tank is None:
            for drawn, meant in measured(plan, key, seen):
                assert drawn == pytest.approx(meant, abs=POINT / points), seen
    for group in root.iter(f"{SVG}g"):
        if group.get("class") == "vw-part":
            x, y = map(float, group.get("data-spot", "").split())
            assert 0.0 <= x <= wide and 0.0 <= y <= high
    listed = {row[0]: str(row[3]) for row in without_place(known).rows}
    once = {f"{table}.{name}" for table in PLACES for name in getattr(plan, table)}
    assert once == {part.key for part in known.parts if part.kind not in ("filler", "drain")}
    for part in known.parts:
        views = {seen.view for seen in shown if keys[seen.key] == part.key}
        assert views == {view for view in VIEWS if part.seen(view)}
        told = listed.get(part.tag, "")
        for view, named in (("side", "side view"), ("plan", "plan view")):
            assert (view in views) or named in told or "both views" in told, part
    apart, _ = over(root)
    assert len(apart) <= len(list(words(root))) ** 2 / 50  # a van of everything at one place has no room for all
    assert to_scale(asked, us) == text


@WHOLE_PLANS
@given(plans(), st.booleans())
def test_every_part_of_every_plan_is_drawn_where_the_plan_says_or_listed(raw: dict[str, Any], us: bool) -> None:
    check(Plan.of(raw, file=True).read_in(us), us)


@SYSTEMS
@pytest.mark.parametrize("name", NAMES)
def test_the_examples_are_drawn_true_with_no_word_over_another_nor_over_a_firm_line(name: str, us: bool) -> None:
    asked = example_answers(name).read_in(us)
    check(asked.plan, us)
    root = drawing(asked, us)
    assert len({seen.key for seen in parts(root)}) >= 5
    apart, across = over(root)
    assert not apart
    assert not across
    assert len(list(lines(root))) > 20


@SYSTEMS
@pytest.mark.parametrize("name", NAMES)
def test_printed_as_large_as_it_is_it_has_the_round_scale_that_it_tells(name: str, us: bool) -> None:
    text = to_scale(example_answers(name).read_in(us), us)
    root = ET.fromstring(text)
    ratio, (_, _, wide, _) = float(root.get("data-scale", "0")), map(float, root.get("viewBox", "").split())
    assert root.get("width") == f"{wide:g}pt" and f"width:{wide:g}pt" in root.get("style", "")
    told = next(scale.words for scale in scales(us) if scale.ratio == ratio)
    assert f"Scale {told} where it is printed at 100{NO_BREAK}%" in text
    for view in root.iter(f"{SVG}g"):
        if view.get("data-points"):
            assert float(view.get("data-points", "")) * INCH / 72 * ratio == pytest.approx(1.0)
    bar = next(group for group in root.iter(f"{SVG}g") if group.get("class") == "vw-bar")
    way = re.match(r"M([\d.]+),9H([\d.]+)", bar[0].get("d", ""))
    assert way is not None
    long = float(way[2]) - float(way[1])
    assert long * INCH / 72 * ratio == pytest.approx(float(bar.get("data-length", "")), rel=1e-3)
    size, unit = (bar.findtext(f"{SVG}text") or "").split()
    assert long * INCH / 72 * ratio == pytest.approx(float(size) * UNITS[unit], rel=1e-3)


@SYSTEMS
def test_each_place_stands_at_its_tick_in_numbers(us: bool) -> None:
    places = {"x": 1.23, "y": -0.45, "z": 0.67}
    tank = {"holds": "fresh", "capacity": "9 L", **{axis: f"{place} m" for axis, place in places.items()}}
    lengths = {"front_overhang": 0.92, "wheelbase": 3.45, "length": 5.41}
    vehicle = {name: f"{length} m" for name, length in lengths.items()}
    plan = van(tanks={"t": tank}, vehicle=vehicle).read_in(us)
    root = drawing(asked_of(plan), us)
    spelt = {name: PLACE.text(value, us).rpartition(NO_BREAK)[0] for name, value in {**places, **lengths}.items()}
    for view, axes in VIEWS.items():
        (group,) = (each for each in root.iter(f"{SVG}g") if each.get("data-view") == view)
        (spot,) = (each.get("data-spot", "").split() for each in group if each.get("class") == "vw-part")
        along, up = (float(place) for place in spot)
        drawn = {text: area for text, area in words(root) if text in spelt.values()}
        seen = {text: area for text, area in drawn.items() if text in {"".join(each.itertext()) for each in group}}
        assert {spelt[axes[1]]} <= set(seen) <= {spelt[axis] for axis in axes}
        level = seen[spelt[axes[1]]]
        assert (level.top + level.bottom) / 2 == pytest.approx(up, abs=1.0)
        if spelt["x"] in seen:
            upright = seen[spelt["x"]]
            assert (upright.left + upright.right) / 2 == pytest.approx(along, abs=1.0)
    assert spelt["x"] in {text for text, _ in words(root)}
    chained = {
        "".join(each.itertext()): float(each.get("x", "0"))
        for each in next(root.iter(f"{SVG}g"))
        if each.tag == f"{SVG}text" and each.get("text-anchor") == "middle"
    }
    assert set(chained) == {spelt[name] for name in lengths}
    axle = float(
        next(each.get("data-origin", "") for each in root.iter(f"{SVG}g") if each.get("data-origin")).split()[0]
    )
    points = next(float(each.get("data-points", "")) for each in root.iter(f"{SVG}g") if each.get("data-points"))
    middles = {"front_overhang": -0.46, "wheelbase": 1.725, "length": 5.41 / 2 - 0.92}
    for name, middle in middles.items():
        assert (chained[spelt[name]] - axle) / points == pytest.approx(middle, abs=POINT / points), name


def test_both_views_share_the_axis_along_the_van() -> None:
    root = drawing(example_answers("family-winter"))
    starts = [view.get("data-origin", "").split()[0] for view in root.iter(f"{SVG}g") if view.get("data-origin")]
    assert len(starts) == 2 and starts[0] == starts[1]


def test_the_centre_of_mass_is_the_number_of_the_weight_answer() -> None:
    asked = example_answers("family-winter")
    masses, drawn = asked.each["weight"].masses, placed_van(asked)  # type: ignore[attr-defined]
    assert [centre.tag for centre in drawn.centres] == ["W1", "W2", "W3"]
    numbers = asked.each["weight"].numbers
    for centre, state in zip(drawn.centres, ("leaving", "home", "full"), strict=True):
        assert any(centre.behind is number for number in masses.behind)
        assert numbers[f"van.water_centre.behind.{state}"] is centre.behind
        assert numbers[f"van.water_centre.right.{state}"] is centre.right
    root = drawing(asked)
    plan_view = next(view for view in root.iter(f"{SVG}g") if view.get("data-view") == "plan")
    (x, y), points = map(float, plan_view.get("data-origin", "").split()), float(plan_view.get("data-points", ""))
    spots = [
        re.match(r"translate\((\S+) (\S+)\)", group.get("transform", ""))
        for group in plan_view.iter(f"{SVG}g")
        if group.get("class") == "vw-centre"
    ]
    for spot, centre in zip(spots, drawn.centres, strict=True):
        assert spot is not None and centre.right is not None
        assert (float(spot[1]) - x) / points == pytest.approx(centre.behind.likely, abs=POINT / points)
        assert (y - float(spot[2])) / points == pytest.approx(centre.right.likely, abs=POINT / points)


def test_a_tank_is_turned_the_right_way_and_hidden_under_the_floor() -> None:
    plan = van(
        tanks={
            "along": {"holds": "fresh", "shape": "lying cylinder", "length": "90 cm", "diameter": "30 cm"}
            | {"x": "1 m", "y": "0.3 m", "z": "10 cm"},
            "across": {"holds": "fresh", "shape": "lying cylinder", "lies": "across", "length": "90 cm"}
            | {"diameter": "30 cm", "x": "2 m", "y": "0 m", "z": "-40 cm"},
            "standing": {"holds": "grey", "shape": "standing cylinder", "height": "50 cm", "diameter": "30 cm"}
            | {"x": "3 m", "y": "0 m", "z": "0 cm"},
        }
    )
    root = drawing(asked_of(plan))
    seen = {(each.key, each.view): each for each in parts(root)}
    sizes = {key: tuple(round(side, 2) for side in each.sides or ()) for key, each in seen.items()}
    assert sizes == {
        ("tanks.along", "side"): (0.9, 0.3),
        ("tanks.along", "plan"): (0.9, 0.3),
        ("tanks.across", "side"): (0.3, 0.3),
        ("tanks.across", "plan"): (0.3, 0.9),
        ("tanks.standing", "side"): (0.3, 0.5),
        ("tanks.standing", "plan"): (0.3, 0.3),
    }
    circles = {  # where it is looked at along its axis
        (group.get("data-key"), view.get("data-view"))
        for view in root.iter(f"{SVG}g")
        if view.get("data-view")
        for group in view
        if group.get("class") == "vw-part" and group.find(f"{SVG}circle") is not None
    }
    assert circles == {("tanks.across", "side"), ("tanks.standing", "plan")}
    assert {key for key, each in seen.items() if each.dashed} == {("tanks.across", "plan")}
    assert "dashed in the plan view: under the floor" in " ".join(root.itertext())


def test_right_of_the_van_is_up_in_the_plan_view_and_the_front_is_left() -> None:
    tank = {"holds": "fresh", "capacity": "50 L", "z": "0 m"}
    plan = van(tanks={"a": tank | {"x": "1 m", "y": "0.5 m"}, "b": tank | {"x": "2 m", "y": "-0.5 m", "z": "1 m"}})
    seen = {(each.key, each.view): each.spot for each in parts(drawing(asked_of(plan)))}
    for view in VIEWS:
        assert seen["tanks.a", view][0] < seen["tanks.b", view][0]
    root = drawing(asked_of(plan))
    down = {
        (group.get("data-key"), view.get("data-view")): float(group.get("data-spot", "").split()[1])
        for view in root.iter(f"{SVG}g") if view.get("data-view")
        for group in view if group.get("class") == "vw-part"
    }  # fmt: skip
    assert down["tanks.a", "plan"] < down["tanks.b", "plan"]  # right of the centre line lies higher on the sheet
    assert down["tanks.a", "side"] > down["tanks.b", "side"]  # what is higher, too


def test_what_has_no_place_is_listed_with_the_address_to_fill_in() -> None:
    plan = van(
        tanks={"fresh": {"holds": "fresh", "capacity": "50 L", "x": "1 m", "filler": {"z": "60 cm"}}},
        outlets={"tap": {"type": "basin tap", "x": "1 m", "z": "1 m"}},
        pumps={"pump": {"kind": "submersible", "tank": "fresh"}},
        vehicle={"wheelbase": "3 m"},
    )
    table = without_place(placed_van(asked_of(plan)))
    told = {row[1]: row[3:] for row in table.rows}
    assert told["fresh tank"] == ("both views, its sides", "tanks.fresh.y, z, length, width, height")
    assert told["filler"] == ("both views", "tanks.fresh.filler.x, y")
    assert told["outlet"] == ("plan view", "outlets.tap.y")
    assert told["pump in its tank"] == ("both views", "tanks.fresh.y, z")
    assert told["the van"][1] == "vehicle.track, front_overhang, length, width, height, floor, wheel"
    text = " ".join(drawing(asked_of(plan)).itertext())
    assert "under the floor" not in text
    assert all(word in text for row in table.rows for word in str(row[4]).split())
    for row in table.rows:  # an address that is told is one of the plan, still open
        first, *others = str(row[4]).split(", ")
        for field in (first.rpartition(".")[2], *others):
            assert plan.at(f"{first.rpartition('.')[0]}.{field}") is None


def test_a_submersible_pump_hangs_at_the_pick_up_of_its_tank() -> None:
    tank = {"holds": "fresh", "length": "80 cm", "width": "40 cm", "height": "30 cm", "x": "2 m", "y": "0.1 m"}
    tank |= {"z": "5 cm", "pickup": "20 mm", "pickup_from_front": "70 cm", "pickup_from_left": "10 cm"}
    asked = asked_of(van(tanks={"fresh": tank}, pumps={"pump": {"kind": "submersible", "tank": "fresh"}}))
    pump = next(part for part in placed_van(asked).parts if part.kind == "pump")
    at = {axis: number.likely for axis, number in pump.at.items()}
    assert at == pytest.approx({"x": 2.0 - 0.4 + 0.7, "y": 0.1 - 0.2 + 0.1, "z": 0.07})


def test_several_tanks_of_which_nobody_says_how_they_stand_have_no_sides() -> None:
    tank = {"holds": "fresh", "length": "30 cm", "width": "20 cm", "height": "40 cm", "count": 3}
    plan = van(tanks={"cans": tank | {"x": "2 m", "y": "0 m", "z": "0 m"}})
    (seen, _) = parts(drawing(asked_of(plan)))
    assert seen.sides is None
    (row, _) = without_place(placed_van(asked_of(plan))).rows
    assert row[1] == "3 fresh tanks" and "how they stand" in str(row[3])


def test_of_the_van_only_what_has_a_length_is_drawn() -> None:
    def drawn(**vehicle: str) -> set[str]:
        plan = van(
            vehicle=vehicle, tanks={"t": {"holds": "fresh", "capacity": "9 L", "x": "1 m", "y": "0 m", "z": "0 m"}}
        )
        root = drawing(asked_of(plan))
        return {each.get("class", "") for each in root.iter() if each.get("class", "").startswith("vw-")}

    bare = drawn(wheelbase="3 m")
    assert "vw-axle" in bare and not bare & {"vw-wheel", "vw-outside", "vw-road"}
    assert "vw-road" in drawn(floor="50 cm")
    assert "vw-wheel" not in drawn(wheelbase="3 m", wheel="70 cm")
    assert "vw-wheel" in drawn(wheelbase="3 m", wheel="70 cm", floor="50 cm")
    assert "vw-outside" not in drawn(length="5 m", height="2.5 m")  # where it begins is not said
    assert "vw-outside" in drawn(front_overhang="90 cm", length="5 m")


def test_us_drawings_are_in_us_units_alone() -> None:
    for name in NAMES:
        text = " ".join(drawing(example_answers(name).read_in(True), True).itertext())
        assert not re.findall(r"\d\s?(?:m|cm|mm|L|kg)\b", text), name
        assert "inches" in text and "metres" not in text
        assert "inches" not in " ".join(drawing(example_answers(name).read_in(False)).itertext())


ODD = (
    '<script>alert("x")</script>',
    "</text><rect onload='x'/>",
    "&lt;b&gt; & 'quoted' \"twice\"",
    "שלום \u202eעולם",
    "مرحبا",
    "🚐🚿👩‍👩‍👧",
    "W" * 300,
    "﷽" * 30,
)


@pytest.mark.parametrize("odd", ODD, ids=range(len(ODD)))
def test_whatever_a_van_is_called_it_stays_a_text_within_the_sheet(odd: str) -> None:
    plan = van(
        van={"name": odd[:80], "revision": odd[:20]},
        tanks={"t": {"holds": "fresh", "capacity": "9 L", "x": "1 m", "y": "0 m", "z": "0 m"}},
    )
    text = to_scale(asked_of(plan))
    root = ET.fromstring(text)
    assert {element.tag.removeprefix(SVG) for element in root.iter()} <= {
        *("svg", "title", "desc", "g", "path", "rect", "circle", "text")
    }
    assert "<script" not in text and "\u202e" not in text
    assert not any(key.startswith("on") for element in root.iter() for key in element.attrib)


@pytest.mark.parametrize("name", ["b" * 39, "水" * 20, "шalß é 水ñ"], ids=["long", "wide", "mixed"])
def test_however_a_part_is_called_its_words_stay_within_the_sheet(name: str) -> None:
    place = {"x": "5 m", "y": "0.9 m", "z": "1 m"}
    plan = van(tanks={name: {"holds": "fresh", "capacity": "9 L", **place}}, vehicle={"wheelbase": "4 m"})
    root = drawing(asked_of(plan))
    for _, area in words(root):
        assert area.left >= -0.5 and area.right <= SHEET[0] + 0.5
    for text in root.iter(f"{SVG}text"):  # those of the lists too
        if not text.get("transform"):
            assert covered(text).right <= SHEET[0] + 0.5, "".join(text.itertext())
    table = "".join(root.itertext())
    assert name[:6] in table


def test_a_reader_of_the_screen_is_told_what_it_shows() -> None:
    root = drawing(example_answers("weekend-cans"))
    assert root.get("role") == "img"
    assert "to scale" in (root.findtext(f"{SVG}title") or "")
    assert "1 can in use, 3 pump" in (root.findtext(f"{SVG}desc") or "")


def test_a_file_of_its_own_is_dark_where_its_reader_wants_that() -> None:
    text = themed(to_scale(example_answers("family-winter")))
    assert "color-scheme:light dark" in text and "@media print{svg{color-scheme:light}}" in text
    used = dict(re.findall(r"var\(--vw-([\w-]+),(#\w+)\)", text))
    assert {"ink", "paper", "fresh", "grey"} <= set(used) <= set(DARK)
    for name, light in used.items():
        told = f"--vw-{name}:light-dark({light},{DARK[name]})" in text
        assert told is (DARK[name] != light), name
    assert text.startswith("<svg") and 'data-generator="vanwater"' in text[:1024]


def test_a_plan_without_any_place_is_a_list() -> None:
    plan = van(tanks={"fresh": {"holds": "fresh", "capacity": "50 L"}})
    assert not placed_van(asked_of(plan)).drawn
    root = drawing(asked_of(plan))
    assert not list(parts(root))
    assert "tanks.fresh.x, y, z" in "".join(root.itertext())
    assert places(placed_van(asked_of(plan))).rows == ()


def test_a_drained_van_has_no_centre_of_its_water() -> None:
    asked = asked_of(example_answers("family-winter").plan.in_situation("laid up"))
    assert placed_van(asked).centres == ()


def test_it_is_drawn_at_once() -> None:
    asked = example_answers("family-winter")
    to_scale(asked)
    start = time.process_time()
    to_scale(asked)
    assert time.process_time() - start < 0.3
