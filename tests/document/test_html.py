from __future__ import annotations

import datetime as dt
import re
from dataclasses import replace
from itertools import pairwise

import pytest
from jinja2 import FileSystemBytecodeCache

import vanwater.document.html as document
from tests.examples import example_answers
from vanwater.answers.core.cautions import ESTIMATE
from vanwater.answers.core.finding import Verdict
from vanwater.answers.core.gathered import numbers_in
from vanwater.answers.core.number import Number
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import Amount, Range, Say, say
from vanwater.document.html import render
from vanwater.figures.roles import contrast
from vanwater.plan.model import Plan
from vanwater.quantities import retold

DATE = dt.date(2026, 11, 25)
HOSTILE = (
    "<script>alert(1)</script>",
    "{{7*7}} {% raw %}",
    "a ]]> b <![CDATA[",
    'x" onload="alert(1)',
    "</style><img src=http://example.org/x>",
    "'; } body { display: none } \\",
    "\u202eabc\u2066",
)
METRIC_UNITS = r"L|mL|L/min|L/day|bar|mm|m|°C|kg|m/s|K"
US_UNITS = r"gal|gal/min|gal/day|psi|in|ft|°F|lb|ft/s"


def one_line(text: str) -> str:
    return " ".join(text.replace("\xa0", " ").replace("\u202f", " ").split())


def made(told, **how) -> str:
    return render(told, date=DATE, **({"charts": {}} | how))


# --- structure -------------------------------------------------------------------------------------------


def test_the_page_is_sound_and_every_link_leads_somewhere(tree):
    root = tree(charts=True)
    ids = [one.attributes["id"] for one in root.all() if "id" in one.attributes]
    assert len(ids) > 30
    assert len(set(ids)) == len(ids)
    links = [one.attributes["href"] for one in root.all("a")]
    assert len(links) > 50
    assert [link for link in links if link[:1] != "#" or link[1:] not in ids] == []
    named = [name for one in root.all() for name in one.attributes.get("aria-labelledby", "").split()]
    assert named and set(named) <= set(ids)


def test_headings_are_in_order_and_tables_have_heads(tree):
    root = tree()
    assert root.all("html")[0].attributes["lang"] == "en"
    levels = [int(one.tag[1]) for one in root.all() if re.fullmatch("h[1-6]", one.tag)]
    assert levels.count(1) == 1 and levels[0] == 1
    assert all(after <= before + 1 for before, after in pairwise(levels))
    tables = [table for table in root.all("table") if table.attributes["class"] != "signatures"]
    assert len(tables) > 10
    for table in tables:
        (above,) = table.all("thead")
        first = [next(part for part in row.parts if not isinstance(part, str)) for row in table.all("tr")]
        heads = [*above.all("th"), *first]  # so that HTML takes each for the head of its column or row
        assert not above.all("td") and all(any(head is one for one in heads) for head in table.all("th"))
        widths = {
            sum(int(cell.attributes.get("colspan", 1)) for cell in row.parts if not isinstance(cell, str))
            for row in table.all("tr")
        }
        assert len(widths) == 1, table.text


def test_charts_are_described_and_drawn_once(tree):
    figures = [
        figure for figure in tree(charts=True).all("figure") if figure.attributes.get("id", "").startswith("chart-")
    ]
    assert figures
    for figure in figures:
        (drawn,) = figure.all("svg")
        assert drawn.attributes["role"] == "img"
        assert drawn.attributes["aria-label"]
        assert figure.all("figcaption")[0].text


def test_colours_are_read_by_everybody():
    css = document._css()
    colours = dict(re.findall(r"--(\w+): (#[0-9a-f]{6});", css))
    assert {"ink", "soft", "fails", "watch", "fine", "open", "link"} <= set(colours)
    for name in ("ink", "soft", "fails", "watch", "fine", "open", "link"):
        assert contrast(colours[name], "#ffffff") >= 4.5
        assert contrast(colours[name], colours["pale"]) >= 4.5


# --- nothing from outside ----------------------------------------------------------------------------------


def test_nothing_is_asked_for_anywhere(tree, page):
    text = page(charts=True)
    assert set(re.findall(r"[a-z]+://[^\"' <)]*", text)) <= {
        "http://www.w3.org/2000/svg",
        "http://www.w3.org/1999/xlink",
    }
    assert set(re.findall(r'([\w:-]+)="[a-z]+://', text)) <= {"xmlns", "xmlns:xlink"}
    root = tree(charts=True)
    tags = {one.tag for one in root.all()}
    assert not tags & {"script", "img", "link", "iframe", "object", "embed", "image", "form", "base", "video", "audio"}
    asking = [n for one in root.all() for n in one.attributes if n in ("src", "srcset", "action", "data", "poster")]
    assert asking == []
    assert re.findall(r"url\((?!#)|@import", text) == []
    (policy,) = [one for one in root.all("meta") if one.attributes.get("http-equiv") == "Content-Security-Policy"]
    assert policy.attributes["content"].startswith("default-src 'none'")


@pytest.mark.parametrize("name", HOSTILE)
def test_names_are_only_ever_text(name, family, tell, reader):
    plan = family.changed({"van.name": name, "van.revision": name[:20], "van.note": name})
    usual, hostile = tell(family), tell(plan, store=name, outlet=name)
    before, after = reader.page(made(usual)), reader.page(made(hostile))
    shape = [(one.tag, sorted(one.attributes), one.inside) for one in before.all() if one.tag not in ("a", "wbr")]
    same = [(one.tag, sorted(one.attributes), one.inside) for one in after.all() if one.tag not in ("a", "wbr")]
    assert [one for one in same if one not in shape] == []
    shown = one_line("".join(letter for letter in name if letter not in "\u202e\u2066"))
    assert after.all("h1")[0].text == shown
    assert after.all("title")[0].text == f"{shown}: its water, and why"
    assert shown in after.all("p", class_="headline")[0].text
    assert "49" not in after.all("h1")[0].text
    for style, own in zip(after.all("style"), before.all("style"), strict=True):
        assert style.parts[0].count("content:") == own.parts[0].count("content:")
        assert "<" not in style.parts[0]
    assert "\u202e" not in made(hostile)


def test_what_a_template_would_write_by_itself_is_escaped_too():
    assert document._environment().from_string("{{ name }}").render(name="<b>") == "&lt;b&gt;"


# --- it says what the answers say -----------------------------------------------------------------------------


def sentences(answer: Answer):
    yield answer.verdict
    for table in answer.tables:
        yield from (table.caption, *(cell for row in table.rows for cell in row if isinstance(cell, Say)))
        yield from (table.note,) if table.note else ()
    for finding in answer.findings:
        yield from (finding.statement, *((finding.advice,) if finding.advice else ()))
    yield from (assumption.statement for assumption in answer.assumptions)


@pytest.mark.parametrize("us", [False, True])
def test_every_word_of_every_answer_is_there(example, us, tree):
    text = tree(us=us).text
    for answer in example.read_in(us).each.values():
        for sentence in sentences(answer):
            assert one_line(sentence.text(us)) in text
        for assumption in answer.assumptions:
            assert one_line(retold(assumption.measure, us)) in text
        for caution in answer.cautions:
            words = caution.text if isinstance(caution.text, str) else caution.text.text(us)
            assert text.count(one_line(words)) == (2 if caution is ESTIMATE else 1)  # that one on the first page too
        for finding in answer.findings:
            assert str(finding.verdict) in text
            assert one_line(finding.address) in text


def test_every_number_of_every_table_is_the_answers_own(example, tree):
    us = example.plan.us
    sections = tree().all("section", class_="answer")
    sheets = [table for section in sections for table in section.all("table", class_="sheet")]
    tables = [table for answer in example.each.values() for table in (*answer.tables, *answer.pieces)]
    assert len(sheets) == len(tables)
    for sheet, table in zip(sheets, tables, strict=True):
        (above,), rows = sheet.all("thead"), sheet.all("tbody")[0].all("tr")
        heads = above.all("th")
        assert len(rows) == len(table.rows)
        for shown, row in zip(rows, table.rows, strict=True):
            cells = [part for part in shown.parts if not isinstance(part, str)]
            for head, cell in zip(heads, row, strict=False):
                there = " ".join(cells.pop(0).text for _ in range(int(head.attributes.get("colspan", 1))))
                whole = cell.text(us) if isinstance(cell, Amount | Range | Say) else cell or ""
                assert [word for word in one_line(whole).split() if word not in f"{there} {head.text}"] == []


def made_of(number):
    """Whether there is anything that a number can be followed to."""
    return bool(number.formula or number.given or number.facts)


def sums_in(root):
    """The sums as the page has them: each with its name, its own words, and those that stand above it for all."""
    above, found = "", []
    (appendix,) = root.all("div", class_="sums")
    for part in appendix.parts:
        if isinstance(part, str):
            continue
        if part.tag == "h4":
            above = part.text
        elif part.tag == "p" and "id" in part.attributes:
            found.append((part.text.split(" ", 1)[1].split(" = ")[0], part.text, above))
        elif part.tag == "table":
            heads = f"{above} {part.all('thead')[0].text}"
            rows = part.all("tbody")[0].all("tr")
            found += [(row.all("td")[1].text, row.text, heads) for row in rows]
        else:
            above += " " + part.text
    return found


def numbers_of(example):
    """All numbers of a van's answers that can be followed to something, by name."""
    named = {}
    for answer in example.each.values():
        for number in (one for top in answer.numbers.values() for _, one in top.walk()):
            if made_of(number):
                named.setdefault(one_line(number.name), []).append(number)
    return named


def test_the_sums_are_those_that_the_pages_lead_to_with_all_they_are_made_of(example, tree):
    root = tree()
    printed = [name for name, *_ in sums_in(root)]
    known = numbers_of(example)
    assert set(printed) <= set(known)
    assert len(printed) > 20
    for name in printed:
        made = {one_line(one.name) for number in known[name] for _, one in number.walk() if made_of(one)}
        assert made <= set(printed)
    for answer in example.each.values():
        for top in numbers_in(*(finding.value for finding in answer.findings)):
            assert not made_of(top) or one_line(top.name) in printed
    numbers = [one.attributes["id"] for one in root.all() if re.fullmatch(r"s\d+", one.attributes.get("id", ""))]
    assert numbers == [f"s{place}" for place in range(1, len(printed) + 1)]


def test_every_sum_tells_its_result_and_all_that_was_put_in(example, tree):
    us, known = example.plan.us, numbers_of(example)
    for name, own, above in sums_in(tree()):
        words = f"{own} {above}"

        def lacking(number, words=words):
            put = (piece.value for piece in (*number.given, *number.facts))
            put = (one.words or one.amount if isinstance(one, Number) else one for one in put)
            texts = [one if isinstance(one, str) else one.text(us) for one in (number.result, *put)]
            each = (word for text in texts for word in one_line(text).split())
            return [word for word in each if word not in words and word.replace("_", "") not in words]

        assert any(not lacking(number) for number in known[name]), (name, [*map(lacking, known[name])])


def test_every_source_is_listed_or_said(example, tree):
    root = tree()
    text = root.text
    listed = [one.text.rstrip(".").lower() for one in root.all("ol", class_="sources")[0].all("li")]
    assert len(set(listed)) == len(listed) > 5
    known = numbers_of(example)
    steps = [number for name, *_ in sums_in(root) for number in known[name]]
    told = [
        one for answer in example.each.values() for one in (*answer.findings, *answer.assumptions, *answer.cautions)
    ]
    sources = {one_line(retold(one.source, example.plan.us)) for one in (*steps, *told) if one.source}
    assert len(sources) > 8
    for source in sources:
        where = text if source[0].islower() else None
        assert source in text if where else source.rstrip(".").lower() in listed, source


def test_the_plan_is_there_with_every_address(example, tree):
    (plan,) = tree().all("section", class_="plan")
    addresses = set()
    for listing in plan.all("div", class_="listing"):
        for table in listing.all("table"):
            (corner, *heads), rows = table.all("thead")[0].all("th"), table.all("tbody")[0].all("tr")
            turned = "turned" in table.attributes["class"].split()
            for row in rows:
                first, *cells = (part for part in row.parts if not isinstance(part, str))
                for head, cell in zip(heads[turned:], cells[turned:], strict=True):
                    field, name = (first, head) if turned else (head.all("code")[0], first)
                    part = "" if name.text == "value" else f"{name.text}."
                    addresses |= {f"{corner.text}.{part}{field.text}"} if cell.text else set()
    for key, table in example.plan.own.items():
        for name, value in table.items() if key != "situations" else ():
            for field in value if isinstance(value, dict) else ("",):
                assert f"{key}.{name}.{field}".rstrip(".") in addresses


def test_the_first_page_tells_what_counts(told, reader):
    first = reader.page(made(told)).all("div", class_="first")[0]
    verdict = told.each["stay"].verdict
    assert first.all("h1")[0].text == "Family van, winter use"
    assert "Revision 4 · 25 November 2026 · for 4 people · 3 days wanted" in first.text
    assert first.all("p", class_="headline")[0].text == one_line(verdict.text())
    assert [one.text for one in first.all("p", class_="headline")[0].all("b")] == ["2.7 days"]
    assert [one.text for one in first.all("span", class_="remark")] == ["ends the stay"]
    findings = first.all("li", class_="finding")
    assert [one.all("b", class_="verdict")[0].text for one in findings] == ["✕ fails", "! watch", "… not decided"]
    assert "Hold 40 L more grey water: 1.3 days." in findings[0].text


def test_each_verdict_is_told_by_mark_and_word(told, reader):
    spans = reader.page(made(told)).all("b", class_="verdict")
    assert {one.text for one in spans} == {str(verdict) for verdict in Verdict if verdict is not Verdict.AGREED}


def test_grave_cautions_stand_before_the_tables_and_are_never_folded(told, reader):
    text = made(told)
    root = reader.page(text)
    (grave,) = root.all("div", class_="grave")
    assert grave.text == "Warning. Hot water burns. (source [2])"
    assert "details" not in grave.inside
    section = text.index('id="q2"')
    assert section < text.index("Hot water burns.") < text.index("<table", section)


def test_a_finding_leads_to_its_sum_and_this_to_what_it_is_made_of(told, reader):
    root = reader.page(made(told))
    by_id = {one.attributes["id"]: one for one in root.all() if "id" in one.attributes}
    finding = root.all("section", class_="answer")[0].all("li", class_="fails")[0]
    first = by_id[finding.all("a")[0].attributes["href"].removeprefix("#")]
    assert first.text == "S1 days off-grid = 2.7 days (2.1 to 3.5): grey 2.7 days S2"
    lasts = by_id[first.all("a")[0].attributes["href"].removeprefix("#")]
    assert lasts.text == "S2 days of grey = 2.7 days: Vu 80 L, q 30 L/day S3"
    assert "into grey a day" in by_id[lasts.all("a")[0].attributes["href"].removeprefix("#")].text
    assert [one.text for one in root.all("h4") if "Vu / q" in one.text] == ["Days until a store is empty. Vu / q"]


# --- units, sameness, plans that say little -----------------------------------------------------------------------


def lines(root) -> list[str]:
    apart = ("p", "td", "th", "li", "dd", "caption", "h4")
    return [one.text for one in root.all() if one.tag in apart and not any(part.all("p") for part in _elements(one))]


def _elements(one):
    return [part for part in one.parts if not isinstance(part, str)]


@pytest.mark.parametrize(("us", "own", "other"), [(False, METRIC_UNITS, US_UNITS), (True, US_UNITS, METRIC_UNITS)])
def test_metric_and_us_units_are_never_mixed(told, us, own, other, reader):
    root = reader.page(made(told, us=us))
    first, *_ = root.all("div", class_="first")
    shown = [line for one in (first, *root.all("section", class_="answer")) for line in lines(one)]
    sums = [own for _, own, _ in sums_in(root)]
    assert any(re.search(rf"\d ({own})\b", line) for line in shown)
    assert [line for line in (*shown, *sums) if re.search(rf"\d ({other})(?![\w/])", line)] == []


def test_units_are_the_plans_own_choice_unless_another_is_made(told, family):
    american = replace(told, plan=family.changed({"van.units": "us"}))
    assert "November 25, 2026" in made(american) and "size: letter" in made(american)
    assert "25 November 2026" in made(american, us=False) and "size: A4" in made(american, us=False)
    assert made(told, us=True) != made(told)
    assert "size: letter" in made(told, paper="letter")


def test_the_same_answers_and_date_give_the_same_bytes(example, page):
    drawn = example.plan.van.name == example_answers("weekend-cans").plan.van.name  # a chart alone: tests/figures
    assert made(example, charts=None if drawn else {}) == page(charts=drawn)
    assert page() != render(example, date=dt.date(2027, 1, 1), charts={})


def test_today_is_the_day_without_a_date(told):
    assert dt.date.today().strftime("%Y") in render(told, charts={})


def test_a_plan_that_hardly_says_anything_has_a_document_too(told, reader):
    bare = Plan.of({"van": {"name": "A"}, "household": {"people": 1}})
    empty = replace(told.each["stay"], make_tables=tuple, findings=(), assumptions=(), cautions=())
    empty = replace(empty, verdict=say("Nothing yet."))
    root = reader.page(made(replace(told, plan=bare, each={"stay": empty})))
    assert "for 1 person" in root.text
    assert "No number was worked out" in root.text
    assert "pumps: none in the plan" in root.text
    assert reader.page(made(replace(told, plan=bare, each={}))).all("h1")[0].text == "A"


@pytest.mark.parametrize("failing", ["dump_bytecode", "_get_default_cache_dir"])
def test_where_compiled_templates_cannot_be_kept_the_page_is_made_all_the_same(monkeypatch, failing):
    asked = []

    def refused(*_):
        asked.append(failing)
        raise OSError(28, "No space left on device")

    before = render(example_answers("weekend-cans"), date=dt.date(2026, 11, 25))
    monkeypatch.setattr(FileSystemBytecodeCache, "load_bytecode", lambda *_: None)
    monkeypatch.setattr(FileSystemBytecodeCache, failing, refused)
    document._environment.cache_clear()
    try:
        assert render(example_answers("weekend-cans"), date=dt.date(2026, 11, 25)) == before and asked
    finally:
        document._environment.cache_clear()
