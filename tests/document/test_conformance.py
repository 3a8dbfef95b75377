"""Every paper of every example is sound HTML to a strict parser, and said to who cannot see it.

The Nu checker, which needs Java, is run by hand over the same pages and drawings: see DEVELOPERS.md.
"""

from __future__ import annotations

import datetime as dt
import re
import xml.etree.ElementTree as ET
from collections.abc import Callable
from itertools import pairwise
from types import ModuleType
from typing import Any

import html5lib
import pytest

from tests.examples import NAMES, example, example_answers
from vanwater.document.change_order import render_change
from vanwater.document.short import READERS, render_for
from vanwater.figures.schematic.drawing import schematic
from vanwater.options.variants import compare_plans

DAY = dt.date(2026, 11, 25)
SYSTEMS = pytest.mark.parametrize("us", [False, True])


def sound(page: str, reader: ModuleType) -> None:
    """Parse it strictly, and look for names, captions, heads and the order of headings."""
    html5lib.HTMLParser(strict=True).parse(page)
    root = reader.page(page)
    assert root.all("html")[0].attributes["lang"] == "en"
    levels = [int(one.tag[1]) for one in root.all() if re.fullmatch("h[1-6]", one.tag)]
    assert levels[0] == 1 and levels.count(1) == 1 and all(after <= before + 1 for before, after in pairwise(levels))
    for table in root.all("table"):
        sums = table.attributes["class"] == "put"  # the formula above it is its heading
        assert sums or table.all("caption")[0].text, table.text
        assert all(head.attributes.get("scope") in ("col", "row") for head in table.all("th"))
    ids = [one.attributes["id"] for one in root.all() if "id" in one.attributes]
    links = [one.attributes["href"] for one in root.all("a")]
    assert len(set(ids)) == len(ids) and links and {link.removeprefix("#") for link in links} <= set(ids)
    for drawn in root.all("svg"):
        assert drawn.attributes["role"] == "img" and drawn.all("desc")[0].parts
        assert drawn.attributes.get("aria-label") or drawn.all("title")[0].parts
    assert all(link.text or link.attributes["aria-label"] for link in root.all("a"))
    for one in root.all():
        if "tabindex" in one.attributes:
            wide = max((len(row.parts) for row in one.all("tr")), default=99)
            assert one.attributes["tabindex"] == "0" and one.attributes["aria-label"] and wide > 5


@SYSTEMS
@pytest.mark.parametrize("name", NAMES)
def test_the_short_papers_are(name: str, us: bool, reader: ModuleType) -> None:
    for who in READERS:
        sound(render_for(who, example_answers(name), us=us, date=DAY), reader)


@SYSTEMS
def test_the_file_is(us: bool, example: Any, page: Callable[..., str], reader: ModuleType) -> None:
    sound(page(us=us, charts=us is example.plan.us), reader)


@SYSTEMS
def test_a_change_order_is(us: bool, reader: ModuleType) -> None:
    plan = example("family-winter").read_in(us)
    then = {"bare": plan.changed({"accumulators.accumulator": None})}
    sound(render_change(compare_plans("now", plan, then, keys=()), date=DAY), reader)


@SYSTEMS
@pytest.mark.parametrize("name", NAMES)
def test_a_drawing_is(name: str, us: bool) -> None:
    root = ET.fromstring(schematic(example_answers(name).read_in(us), us))
    begins = [child.tag.rpartition("}")[2] for child in root[:2]]
    assert begins == ["title", "desc"] and all(child.text for child in root[:2])
