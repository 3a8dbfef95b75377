from __future__ import annotations

import csv as table_file
import io
from html.parser import HTMLParser
from urllib.parse import unquote

import numpy as np
import pytest

from tests.examples import example_answers
from vanwater.answers.core.chart import Axis, Bars, Chart
from vanwater.figures.data import csv
from vanwater.panels.csv_link import DIGITS, csv_link, file_stem
from vanwater.quantities import STAY

HOSTILE = "\"><script>alert(1)</script>'&\r\n=1+1"


class Links(HTMLParser):
    """What a browser makes of it."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))


def hostile() -> Chart:
    bars = Bars("fresh", (HOSTILE, "=2+2"), np.array([1.0, 2.0]) * 86400, label=HOSTILE)
    return Chart("hostile", HOSTILE, Axis(HOSTILE, STAY), Axis("store"), (bars,), HOSTILE)


@pytest.mark.parametrize("us", [False, True])
def test_the_link_holds_the_numbers_of_the_picture(us: bool) -> None:
    chart = example_answers("family-winter")["stay"].chart("stores")
    assert chart is not None
    ((tag, attributes),) = Links(csv_link(chart, us, "Family van, winter use")).tags
    assert tag == "a"
    assert attributes["download"] == "family-van-winter-use-stores.csv"
    head, data = (attributes["href"] or "").split(",", 1)
    assert head == "data:text/csv;charset=utf-8"
    assert unquote(data) == f"\ufeff{csv(chart, us, DIGITS)}"
    rows = list(table_file.DictReader(io.StringIO(unquote(data).lstrip("\ufeff"))))
    lasts = {row["store"]: row for row in rows if row["kind"] == "as planned"}
    grey = next(store for store in example_answers("family-winter")["stay"].stores if store.name == "grey")  # type: ignore[attr-defined]
    key = next(name for name in lasts["grey"] if name.startswith("days out"))
    assert float(lasts["grey"][key]) == pytest.approx(grey.days.likely / 86400, rel=1e-4)


def test_a_plans_words_stay_data() -> None:
    text = csv_link(hostile(), plan=HOSTILE)
    ((tag, attributes),) = Links(text).tags
    assert (tag, set(attributes)) == ("a", {"class", "download", "href", "title"})
    assert "<script" not in text
    data = unquote((attributes["href"] or "").split(",", 1)[1])
    cells = [cell for row in table_file.reader(io.StringIO(data.lstrip("\ufeff"))) for cell in row]
    assert "'=2+2" in cells  # no formula
    assert not [cell for cell in cells if cell.startswith("=")]


@pytest.mark.parametrize(
    ("plan", "stem"),
    [
        ("", "hostile"),
        ("Family van, winter use", "family-van-winter-use-hostile"),
        ("Über/../../etc", "uber-etc-hostile"),
        ("車", "hostile"),
        ("con", "con-hostile"),
        ("a" * 300, "a" * 60 + "-hostile"),
        ('x"; rm', "x-rm-hostile"),
    ],
)
def test_a_file_is_called_by_van_and_chart_in_letters_that_every_disk_takes(plan: str, stem: str) -> None:
    assert file_stem(hostile(), plan) == stem
