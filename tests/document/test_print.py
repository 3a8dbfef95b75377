"""The document in a real browser: on a desk, on a telephone, on paper."""

from __future__ import annotations

import datetime as dt
import re
import unicodedata
import zlib

import pytest

from tests.examples import example_answers
from vanwater.answers.questions import answers_to
from vanwater.document.output_file import PAGE
from vanwater.document.papers import in_form, paper
from vanwater.plan.file import read
from vanwater.plan.tables import resource

pytestmark = pytest.mark.browser

FOOT = "Family van, winter use · revision 4 · 25 November 2026"


@pytest.fixture(scope="module")
def document(tmp_path_factory):
    plan = read(resource("data", "plans", "family-winter.toml")).plan
    place = tmp_path_factory.mktemp("doc") / "van.html"
    place.write_bytes(in_form(paper("file", answers_to(plan), date=dt.date(2026, 11, 25)), PAGE))
    return place


@pytest.fixture(scope="module")
def opened(chromium, document):
    """The page, with every request that it made."""
    page = chromium.new_page(viewport={"width": 1280, "height": 800})
    asked, told = [], []
    page.on("request", lambda request: asked.append(request.url))
    page.on("console", lambda message: told.append(message.text))
    page.on("pageerror", lambda error: told.append(str(error)))
    page.goto(document.as_uri())
    yield page, asked, told
    page.close()


def test_nothing_leaves_and_nothing_is_complained_of(opened, document):
    page, asked, told = opened
    page.pdf(format="A4")
    assert asked == [document.as_uri()]
    assert told == []


@pytest.mark.parametrize("width", [1280, 390])
def test_nothing_is_wider_than_the_window(opened, width):
    page, *_ = opened
    page.set_viewport_size({"width": width, "height": 800})
    assert page.evaluate("document.documentElement.scrollWidth") == width
    shown = page.evaluate("[...document.querySelectorAll('.picture svg')].map(one => one.getBoundingClientRect())")
    assert len(shown) == len(page.query_selector_all("figure[id^=chart-]")) > 5
    assert all(one["x"] >= 0 and one["right"] <= width and one["width"] > 300 for one in shown)


def test_lines_are_of_a_readable_length(opened):
    page, *_ = opened
    page.set_viewport_size({"width": 1280, "height": 800})
    lines = page.evaluate(
        """[...document.querySelectorAll('.answer li > p, .answer .assumptions li, .appendix > p')].map(one => {
            const range = document.createRange(); range.selectNodeContents(one);
            const rows = new Set([...range.getClientRects()].map(box => Math.round(box.bottom / 12)));
            return [one.innerText.length, rows.size];
        }).filter(one => one[1] > 2).map(one => one[0] / one[1])"""
    )
    assert len(lines) > 3
    assert max(lines) <= 80


@pytest.mark.parametrize(("paper", "size"), [("A4", (595, 842)), ("Letter", (612, 792))])
def test_every_sheet_of_paper_says_in_its_foot_what_it_belongs_to(opened, paper, size):
    page, *_ = opened
    sheets = pages(page.pdf(format=paper))
    assert 8 < len(sheets) < 70  # every question with its tables, the drawing, every sum
    for number, (width, height, text) in enumerate(sheets, 1):
        assert (round(width), round(height)) == pytest.approx(size, abs=1)
        assert FOOT in text
        assert f"page {number} of {len(sheets)}" in text
    assert "The grey tank is full first" in sheets[0][2]
    first = sheets[0][2]
    assert "What to know first" in first and "licensed practice decide" in first
    assert first.count("What helps") >= 5 and "never on under an empty tank" in first  # all that fails, grave cautions
    assert "The trade's terms" in first + sheets[1][2]


def test_paper_holds_what_the_screen_unfolds(opened):
    page, *_ = opened
    whole = " ".join(text for *_, text in pages(page.pdf(format="A4")))
    for heading in ("The sums", "The plan as decided", "Sources", "The trade's terms", "Before you rely on this"):
        assert heading in whole
    assert not re.search(r"\(sums?\s*\)", whole)  # what has no sum on paper names none
    numbers = {int(found) for found in re.findall(r"\bS(\d+)\b", whole)}
    assert numbers == set(range(1, max(numbers) + 1))


def test_no_heading_stands_alone_at_the_foot_of_a_sheet(opened):
    page, *_ = opened
    headings = [one.inner_text().replace("\xa0", " ") for one in page.query_selector_all("h2, h3, caption")]
    assert len(headings) > 15
    for number, (*_, text) in enumerate(pages(page.pdf(format="A4")), 1):
        assert text.startswith(f"page {number} of ")  # the foot is drawn first, so that the sheet's last words end it
        assert [heading for heading in headings if text.endswith(heading)] == []


@pytest.mark.parametrize("us", [False, True], ids=["A4", "letter"])
@pytest.mark.parametrize(("reader", "most"), [("customer", 4), ("workshop", 9)])
def test_a_short_paper_fills_its_sheets_and_the_drawing_pushes_no_text_away(chromium, tmp_path, reader, most, us):
    place = tmp_path / "short.html"
    place.write_bytes(in_form(paper(reader, example_answers("family-winter"), us=us, date=dt.date(2026, 11, 25)), PAGE))
    page = chromium.new_page()
    page.goto(place.as_uri())
    sheets = [text for *_, text in pages(page.pdf(prefer_css_page_size=True))]
    headings = [one.inner_text().replace("\xa0", " ") for one in page.query_selector_all("h2, h3, caption")]
    page.close()
    assert 2 <= len(sheets) <= most
    assert [heading for text in sheets for heading in headings if text.endswith(heading)] == []
    leaves = [text for text in sheets if "Before it leaves" in text]  # with the first rows that it leads to
    assert all("Gas of the accumulator. Tyre gauge" in text for text in leaves) and bool(leaves) == (
        reader == "workshop"
    )
    numbered = next(number for number, text in enumerate(sheets) if "Not to scale" in text or "not to scale" in text)
    assert numbered == (len(sheets) - 1 if reader == "customer" else 0)  # behind all text, or below the title


def pages(pdf: bytes) -> list[tuple[float, float, str]]:
    """Width, height and words of each page of a PDF that Chromium wrote."""
    objects = {int(found[1]): found[2] for found in re.finditer(rb"(\d+) 0 obj\s*(.*?)endobj", pdf, re.DOTALL)}
    letters = {number: _letters(objects, body) for number, body in objects.items() if b"/ToUnicode" in body}
    found = []
    for body in objects.values():
        if re.search(rb"/Type\s*/Page\b", body):
            box = re.search(rb"/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]", body)
            fonts = {name: letters[int(number)] for name, number in re.findall(rb"/(F\d+) (\d+) 0 R", body)}
            drawn = _stream(objects[int(re.search(rb"/Contents (\d+) 0 R", body)[1])])
            found.append((float(box[1]), float(box[2]), _words(drawn, fonts)))
    return found


def _words(drawn: bytes, fonts: dict[bytes, dict[int, str]]) -> str:
    text, font = [], {}
    for name, glyphs, end in re.findall(rb"/(F\d+) [\d.]+ Tf|<([0-9A-Fa-f]+)> Tj|\b(ET)\b", drawn):
        if name:
            font = fonts[name]
        elif end:
            text.append(" ")
        text += [font.get(int(glyphs[place : place + 4], 16), "") for place in range(0, len(glyphs), 4)]
    return " ".join(unicodedata.normalize("NFKC", "".join(text)).split())


def _letters(objects: dict[int, bytes], font: bytes) -> dict[int, str]:
    table = _stream(objects[int(re.search(rb"/ToUnicode (\d+) 0 R", font)[1])]).decode("ascii")
    found = {}
    for block in re.findall(r"beginbfchar(.*?)endbfchar", table, re.DOTALL):
        for glyph, letter in re.findall(r"<(\w+)> <(\w+)>", block):
            found[int(glyph, 16)] = bytes.fromhex(letter).decode("utf-16-be")
    for block in re.findall(r"beginbfrange(.*?)endbfrange", table, re.DOTALL):
        for first, last, letter in re.findall(r"<(\w+)> <(\w+)> <(\w+)>", block):
            for glyph in range(int(first, 16), int(last, 16) + 1):
                found[glyph] = chr(int(letter, 16) + glyph - int(first, 16))
    return found


def _stream(body: bytes) -> bytes:
    data = body[body.index(b"stream") + 6 : body.rindex(b"endstream")].lstrip(b"\r\n")
    return zlib.decompressobj().decompress(data) if b"/FlateDecode" in body else data
