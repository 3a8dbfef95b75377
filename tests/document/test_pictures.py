from __future__ import annotations

import numpy as np
import pytest

from vanwater.answers.core.chart import Axis, Bars, Chart, Line
from vanwater.answers.core.statement import Amount, say
from vanwater.document.pictures import HIGH, WIDE, inline, pictures
from vanwater.document.words import Words
from vanwater.quantities import VOLUME

NS = 'xmlns="http://www.w3.org/2000/svg"'


def svg(inside: str) -> str:
    return f"<svg {NS} viewBox='0 0 10 10'>{inside}</svg>"


def test_a_drawing_is_taken_without_its_prolog():
    drawn = svg("<defs><path id='a' d='M0 0'/></defs><use href='#a'/><g clip-path='url(#a)'/>")
    assert inline(f'<?xml version="1.0"?>\n<!-- by hand -->\n{drawn}\n') == drawn


@pytest.mark.parametrize(
    "inside",
    [
        "<script>alert(1)</script>",
        "<foreignObject><p/></foreignObject>",
        "<image href='data:image/png;base64,AAAA'/>",
        "<a href='#x'><text>x</text></a>",
        "<animate attributeName='x'/>",
        "<g onclick='x()'/>",
        "<g ONLOAD='x()'/>",
        "<use href='http://example.org/x.svg#a'/>",
        "<use xmlns:x='http://www.w3.org/1999/xlink' x:href='other.svg#a'/>",
        "<g style='fill: url(http://example.org/x)'/>",
        "<g fill='url( &quot;//example.org&quot;)'/>",
        "<style>@import 'x.css';</style>",
        "<style>text { fill: url(x.svg#a) }</style>",
        "<x:b xmlns:x='urn:x'/>",
    ],
)
def test_what_is_more_than_a_drawing_is_refused(inside):
    with pytest.raises(ValueError, match="a drawing"):
        inline(svg(inside))


@pytest.mark.parametrize(
    "text", ["", "no drawing", "<svg", f"<svg {NS}><g></svg>", "<svg></svg>", f"{svg('')}<p>x</p>"]
)
def test_what_is_no_svg_is_refused(text):
    with pytest.raises(ValueError, match="a drawing"):
        inline(text)


def test_charts_are_drawn_once_in_the_units_that_are_asked_for():
    chart = Chart(
        "stores",
        say("Grey holds {litres}.", litres=Amount(0.08, VOLUME)),
        Axis("usable", VOLUME),
        Axis("store"),
        (Bars(("fresh", "grey"), ("</svg><script>x</script>", "grey"), [0.1, 0.08]),),
        say("The first is larger: {litres}.", litres=Amount(0.1, VOLUME)),
    )
    (metric,) = pictures([chart], Words())
    (us,) = pictures([chart], Words(us=True))
    assert metric.sentence == "The first is larger: 100\xa0L."
    assert us.sentence == "The first is larger: 26.4\xa0gal."
    assert "80" in metric.svg and "21.1" in us.svg
    assert "<script" not in metric.svg
    assert metric.svg.count("<svg") == 1
    assert pictures([], Words()) == ()


def test_curves_are_as_wide_as_high_as_a_page_has_room_and_bars_as_they_need():
    line = Chart(
        "line",
        "It falls.",
        Axis("volume", VOLUME),
        Axis("other volume", VOLUME),
        (Line("fresh", np.array([0.0, 0.1]), np.array([0.1, 0.0]), "water"),),
    )
    bars = Chart("bars", "One.", Axis("volume", VOLUME), Axis("store"), (Bars("fresh", ("one",), [0.1]),))
    drawn = pictures([line, bars], Words())
    assert size(drawn[0].svg) == (WIDE, HIGH)
    assert size(drawn[1].svg)[0] == WIDE
    assert size(drawn[1].svg)[1] < 0.5 * HIGH


def test_many_bars_stand_closer_and_none_covers_another():
    def high(count: int) -> float:
        names = tuple(f"piece {place}" for place in range(count))
        chart = Chart("bars", "One.", Axis("volume", VOLUME), Axis("store"), (Bars("fresh", names, [0.1] * count),))
        (drawn,) = pictures([chart], Words())
        return size(drawn.svg)[1]

    assert high(12) - high(11) == pytest.approx(18.0)
    assert high(4) - high(3) > 20.0


def size(drawn: str) -> tuple[float, float]:
    import re

    found = re.search(r'viewBox="0 0 ([\d.]+) ([\d.]+)"', drawn)
    assert found
    return float(found[1]), float(found[2])
