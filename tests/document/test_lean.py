from __future__ import annotations

import re
from itertools import pairwise

import pytest

from vanwater.document.lean import lean_page, lean_style


def page(body: str, css: str = "") -> str:
    return f"<!DOCTYPE html>\n<html>\n<head>\n<style>\n{css}\n</style>\n</head>\n<body>\n{body}\n</body>\n</html>\n"


def body_of(body: str, css: str = "") -> str:
    return lean_page(page(body, css)).partition("<body>")[2].partition("</body>")[0].strip()


def test_a_page_reads_the_same_in_fewer_bytes(reader):
    body = """<div class="a">
  <p>One &lt;b&gt; <b>two</b></p>
  <table>
    <thead><tr><th scope="col">x</th><th scope="col">y</th></tr></thead>
    <tbody>
      <tr><td>1</td><td>it&#x27;s 2</td></tr>
    </tbody>
  </table>
  <ul><li><p>three</p></li><li>four</li></ul>
  <a href="#s12">S12</a> <a href="#plan">B</a>
</div>"""
    before, after = reader.page(page(body)), reader.page(lean_page(page(body)))
    shape = [(one.tag, one.inside, one.text) for one in before.all()]
    assert shape == [(one.tag, one.inside, one.text) for one in after.all()]
    assert [one.attributes for one in after.all("a")] == [{"href": "#s12"}, {"href": "#plan"}]
    assert "</td>" not in body_of(body) and "<a href=#s12>" in body_of(body) and "<a href=#plan>" in body_of(body)


def test_rules_of_which_nothing_is_there_are_left_out():
    css = """/* a */ .here, .gone b { color: red; } .gone { a: b; } .here.too, .here.gone { c: d; }
    html, *, p[id^="x"]::before, nav p, :is(h1, h2) a { e: f; }
    @page { margin: 9mm; @bottom-left { g: h; } }
    @media print { .here:not(.gone) > td { margin: 0 1em; } .gone, .lost, table i { a: b } }"""
    head = lean_page(page('<p class="here">x<td class="too">', css)).partition("<body>")[0]
    assert ".here{color:red}" in head and ".here:not(.gone)>td{margin:0 1em}" in head and ".here.too{c:d}" in head
    assert 'html,*,p[id^="x"]::before{e:f}' in head and "@bottom-left{g:h}" in head
    assert not re.search(r"\.gone[ {,]|lost|/\*|nav|table", head)
    assert head.count("{") == head.count("}")


def test_a_style_keeps_what_its_blanks_part():
    css = ".a .b > c { font: 8pt system-ui, sans-serif; width: calc(1em + 2px); }"
    assert lean_style(css) == ".a .b>c{font:8pt system-ui,sans-serif;width:calc(1em + 2px)}"


def test_a_drawing_needs_no_group_without_a_look_nor_what_only_programs_read():
    inside = (
        '<g><g transform="translate(1 1)"><g><path d="M0,0h1" fill="none"/></g></g><path d="M1,1h1" fill="none"/></g>'
    )
    svg = f'<svg viewBox="0 0 9 9" role="img" data-seen="0 1"><g class="vw-a" data-key="b">{inside}</g></svg>'
    drawn = body_of(svg)
    assert drawn.count("<g") == drawn.count("</g>") == 1 and 'transform="translate(1 1)"' in drawn
    assert drawn.count("<path") == 2 and 'role="img"' in drawn and "data-" not in drawn
    styled = body_of(svg.replace("><g", "><style>.vw-a g{fill:red}</style><g", 1))
    assert styled.count("<g") == styled.count("</g>") == 4  # its own style sheet may count on them


DRAWN = (
    '<svg xmlns="http://www.w3.org/2000/svg" class="vw-it" viewBox="0 0 9.25 9" style="max-width:100%">'
    '<g class="vw-run"><title>told</title><path d="M1.04,2.06L5,2.06L9.04,2.06" '
    'style="fill:none;stroke:var(--vw-ink,#222222)" stroke-width="0.7"/>'
    '<text x="3.14159" y="2" font-size="7">R1</text></g>'
    '<path d="M0,1L1,1" style="fill:none;stroke:var(--vw-ink,#222222)" stroke-width="0.7"/>'
    '<path d="M0,3L1,3" style="fill:none;stroke:var(--vw-ink,#222222)" stroke-width="0.7"/></svg>'
)


def test_a_drawing_keeps_its_lines_and_says_their_look_once():
    whole = lean_page(page(DRAWN))
    drawn = whole[whole.index("<svg") : whole.index("</svg>")]
    assert "told" not in drawn and ">R1</text>" in drawn and "x=3.1 " in drawn
    (look,) = re.findall(r"\.(v\d+)\{fill:none;stroke:#222;stroke-width:0\.7\}", whole)
    assert drawn.count(f"class={look}") == 2  # lines of one look that follow each other are one
    assert re.findall(r'd="([^"]*)"', drawn) == ["M1 2.1l8 0", "M0 1l1 0M0 3l1 0"]
    assert "font-size:7px" in whole and 'viewBox="0 0 9.25 9"' in drawn


def test_a_drawing_keeps_the_classes_of_which_its_own_style_sheet_speaks():
    boxes = '<g class="vw-box vw-other"><circle r="1"/></g>'
    svg = f'<svg viewBox="0 0 9 9"><style>.vw-box circle{{fill:#fff}}</style>{boxes}</svg>'
    whole = lean_page(page(svg))
    assert (
        ".vw-box circle{fill:#fff}" in whole and re.search(r"<g class=\"?vw-box\"?>", whole) and "vw-other" not in whole
    )


@pytest.mark.parametrize("bend", [0.0, 0.04, 3.0])
def test_a_curve_passes_within_a_tenth_of_a_point_of_all_its_places(bend):
    places = [(float(x), 50 + bend * (x / 10 - 5) ** 2) for x in range(0, 101, 5)]
    d = "M" + "L".join(f"{x:g},{y:.2f}" for x, y in places)
    lean = lean_page(page(f'<svg viewBox="0 0 9 9"><path d="{d}" fill="none"/></svg>'))
    steps = [float(one) for one in re.findall(r"-?(?:\d+\.?\d*|\.\d+)", re.search(r'd="([^"]*)"', lean)[1])]
    kept, x, y = [(steps[0], steps[1])], steps[0], steps[1]
    for dx, dy in zip(steps[2::2], steps[3::2], strict=True):
        kept.append((x := x + dx, y := y + dy))
    assert kept[-1] == pytest.approx(places[-1], abs=0.06)
    for px, py in places:
        (ax, ay), (bx, by) = next(pair for pair in pairwise(kept) if pair[0][0] - 0.06 <= px <= pair[1][0] + 0.06)
        assert ay + (by - ay) * (px - ax) / (bx - ax) == pytest.approx(py, abs=0.25)
    assert len(kept) == 2 if bend == 0 else len(kept) > 8 if bend == 3 else len(kept) < 12


def test_a_page_of_words_that_look_like_tags_stays_words(reader):
    body = "<p>a &lt;/td&gt; b &lt;li&gt; &amp;#x27;</p>"
    assert reader.page(lean_page(page(body))).all("p")[0].text == "a </td> b <li> &#x27;"


def test_a_class_of_which_no_rule_speaks_is_left_out():
    whole = lean_page(page('<p class="here lost">a</p><p class="lost">b</p>', ".here { color: red; }"))
    assert re.search('<p class="?here"?>a', whole) and "<p>b" in whole and "lost" not in whole


def test_a_class_that_is_said_often_is_called_by_a_letter_that_no_rule_and_no_drawing_has():
    css = ".a { m: n; } .often { c: d; } .rare.often { e: f; } .drawn { g: h; } .n2 { i: j; }"
    svg = '<svg viewBox="0 0 9 9"><style>.b{k:l}</style><path class="b drawn" d="M0,0h1"/></svg>'
    many = '<p class="often">x<p class="drawn">z' * 40
    whole = lean_page(page(f'{many}<p class="rare often n2">y{svg}', css))
    head, _, body = whole.partition("<body>")
    assert body.count("<p class=c>x") == 40 and '<p class="rare c n2">y' in body and "<p class=drawn>z" in body
    assert all(rule in head for rule in (".c{c:d}", ".rare.c{e:f}", ".drawn{g:h}", ".n2{i:j}"))
    assert "often" not in whole and "m:n" not in head and '"b drawn"' in body
