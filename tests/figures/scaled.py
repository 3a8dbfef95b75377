"""A drawing to scale read back: where its parts lie, what its words cover, where its lines run."""

from __future__ import annotations

import re
import xml.etree.ElementTree as ET
from collections.abc import Iterator
from dataclasses import dataclass

from vanwater.figures.layout import text_width
from vanwater.figures.schematic.placing import Point
from vanwater.figures.schematic.room import Area

SVG = "{http://www.w3.org/2000/svg}"
_STEP = re.compile(r"([MLHVlhz])([^MLHVlhz]*)")
_LINES = ("vw-extension", "vw-dimension", "vw-outside", "vw-floor", "vw-road", "vw-centre-line", "vw-axle", "vw-wheel")


@dataclass(frozen=True)
class Seen:
    """A part as a view shows it: the place of its mark, and its outline where it has one [m]."""

    key: str
    view: str
    spot: Point
    sides: tuple[float, float] | None
    dashed: bool


def parts(drawing: ET.Element) -> Iterator[Seen]:
    """Every part in every view, measured back into metres by the view's origin and scale."""
    for view in drawing.iter(f"{SVG}g"):
        if view.get("class") != "vw-view":
            continue
        (x, y), points = map(float, view.get("data-origin", "").split()), float(view.get("data-points", "1"))
        for group in view.iter(f"{SVG}g"):
            if group.get("class") == "vw-part":
                (right, down), sides, dashed = _shape(group)
                spot = ((right - x) / points, (y - down) / points)
                size = None if sides is None else (sides[0] / points, sides[1] / points)
                yield Seen(group.get("data-key", ""), view.get("data-view", ""), spot, size, dashed)


def _shape(group: ET.Element) -> tuple[Point, Point | None, bool]:
    """Middle and size of what is drawn, not of what it says of itself; whether it is dashed."""
    dashed = any(each.get("stroke-dasharray") for each in list(group.iter())[:3] if each.get("stroke-width") != "0.5")
    rect, circle, mark = (group.find(f"{SVG}{tag}") for tag in ("rect", "circle", "g"))
    if rect is not None:
        left, top, wide, high = (float(rect.get(key, "")) for key in ("x", "y", "width", "height"))
        return (left + wide / 2, top + high / 2), (wide, high), dashed
    if circle is not None:
        cx, cy, r = (float(circle.get(key, "")) for key in ("cx", "cy", "r"))
        return (cx, cy), (2 * r, 2 * r), dashed
    assert mark is not None
    found = re.match(r"translate\((\S+) (\S+)\)", mark.get("transform", ""))
    assert found is not None
    return (float(found[1]), float(found[2])), None, dashed


def words(drawing: ET.Element) -> Iterator[tuple[str, Area]]:
    """Every word of the views with the room that it covers, turned ones too; a number with its circle."""
    for view in drawing.iter(f"{SVG}g"):
        if view.get("class") != "vw-view":
            continue
        for element in view.findall(f"{SVG}text"):
            yield "".join(element.itertext()), covered(element)
        for element in view.findall(f"{SVG}circle"):
            if element.get("class") == "vw-balloon":
                cx, cy, r = (float(element.get(key, "")) for key in ("cx", "cy", "r"))
                yield "()", Area(cx - 0.7 * r, cy - 0.7 * r, cx + 0.7 * r, cy + 0.7 * r)


def covered(element: ET.Element) -> Area:
    """The room of a word, a turned one too."""
    said, size = "".join(element.itertext()), float(element.get("font-size", "7"))
    wide, anchor = text_width(said, size) * 0.94, element.get("text-anchor", "start")  # widths are on the generous side
    start = {"start": 0.0, "middle": -wide / 2, "end": -wide}[anchor]
    turned = re.match(r"translate\((\S+) (\S+)\) rotate\(-90\)", element.get("transform", ""))
    if turned is not None:
        x, y = float(turned[1]), float(turned[2])
        return Area(x - 0.72 * size, y - start - wide, x, y - start)
    x, y = float(element.get("x", "0")), float(element.get("y", "0"))
    return Area(x + start, y - 0.72 * size, x + start + wide, y)


def lines(drawing: ET.Element) -> Iterator[tuple[str, Area]]:
    """Every level or upright line of the views and of the chains above them."""
    for path in drawing.iter(f"{SVG}path"):
        kind = path.get("class", "")
        if kind in _LINES:
            for start, end in _stretches(path.get("d", "")):
                if start[0] == end[0] or start[1] == end[1]:
                    yield kind, Area.of(start, end)


def _stretches(way: str) -> Iterator[tuple[Point, Point]]:
    at: Point = (0.0, 0.0)
    for step, rest in _STEP.findall(way):
        numbers = [float(number) for number in re.split(r"[ ,]+", rest.strip()) if number]
        start = at
        if step in "ML":
            at = (numbers[0], numbers[1])
        elif step == "l":
            at = (at[0] + numbers[0], at[1] + numbers[1])
        elif step == "H":
            at = (numbers[0], at[1])
        elif step == "V":
            at = (at[0], numbers[0])
        elif step == "h":
            at = (at[0] + numbers[0], at[1])
        if step not in "Mz":
            yield start, at


def over(drawing: ET.Element) -> tuple[list[tuple[str, str]], list[tuple[str, str]]]:
    """Words that lie over other words, and words that lie over a line."""
    said = list(words(drawing))
    ways = list(lines(drawing))
    each = [(i, j) for i in range(len(said)) for j in range(i) if said[i][1].meets(said[j][1])]
    apart = [
        (said[i][0], said[j][0]) for i, j in each if "()" not in (said[i][0], said[j][0]) or said[i][0] == said[j][0]
    ]
    apart += [
        (said[i][0], said[j][0])
        for i, j in each
        if [said[i][0], said[j][0]].count("()") == 1 and not _own(said[i], said[j])
    ]
    circles = [each for each in said if each[0] == "()"]
    across = [
        (text, kind)
        for text, area in said
        for kind, line in ways
        if area.meets(line) and not (kind == "vw-extension" and _in_circle((text, area), circles))
    ]
    return apart, across


def _in_circle(word: tuple[str, Area], circles: list[tuple[str, Area]]) -> bool:
    """Whether it is a circle, which breaks a thin line, or stands in one."""
    return word[0] == "()" or any(circle[1].meets(word[1]) and _own(word, circle) for circle in circles)


def _own(one: tuple[str, Area], other: tuple[str, Area]) -> bool:
    """Whether two are a circle and the number within it."""
    word, circle = (other, one) if one[0] == "()" else (one, other)
    return abs(word[1].left + word[1].right - circle[1].left - circle[1].right) < 1.0


__all__ = ["SVG", "Seen", "covered", "lines", "over", "parts", "words"]
