from __future__ import annotations

import hashlib
from importlib import metadata
from pathlib import Path
from typing import Any

import pytest

from tests.examples import example_answers
from vanwater.answers.core.chart import Chart
from vanwater.figures.data import csv
from vanwater.figures.drawing import drawing
from vanwater.figures.roles import DARK_FOR
from vanwater.figures.screen import figure
from vanwater.panels.large_picture import LargePicture


@pytest.fixture(scope="module")
def chart() -> Chart:
    chart = example_answers("family-winter")["stay"].chart("levels")
    assert chart is not None
    return chart


def test_it_holds_the_description_its_sentence_and_its_numbers(chart: Chart) -> None:
    picture = LargePicture(chart, plan="Family van")
    assert picture.picture["figure"] == figure(chart)
    assert picture.picture["csv"] == f"\ufeff{csv(chart)}"
    assert picture.picture["file"] == "family-van-levels"
    assert picture.picture["told"].startswith("The grey tank is full first")
    picture.show(chart, us=True)
    assert picture.picture["figure"] == figure(chart, us=True)
    picture.show(None)
    assert picture.picture == {}
    assert picture.tones == DARK_FOR


def test_the_script_is_the_installed_packages_and_is_sent_only_when_it_is_asked_for(
    chart: Chart, monkeypatch: pytest.MonkeyPatch
) -> None:
    sent: list[tuple[Any, Any]] = []
    picture = LargePicture(chart)
    monkeypatch.setattr(picture, "send", lambda content, buffers=None: sent.append((content, buffers)))
    for message in ({}, {"want": "other"}, "plotly", None):
        picture._asked(picture, message, [])
    assert sent == []
    picture._asked(picture, {"want": "plotly"}, [])
    ((content, (script,)),) = sent
    assert content == {"script": "plotly"}
    named = next(file for file in metadata.files("plotly") or () if file.name == "plotly.min.js")
    assert hashlib.sha256(script).digest() == hashlib.sha256(Path(str(named.locate())).read_bytes()).digest()
    state = picture.get_state()
    assert sum(len(str(value)) for value in state.values()) < 100_000  # no script in what a notebook keeps


def test_a_page_without_a_kernel_gets_the_same_as_it_stands(chart: Chart) -> None:
    bundle, _ = LargePicture(chart, plan="Family van")._repr_mimebundle_()
    assert drawing(chart) in bundle["text/html"]
    assert 'download="family-van-levels.csv"' in bundle["text/html"]
    assert bundle["text/plain"].startswith("The grey tank is full first")
    assert "application/vnd.jupyter.widget-view+json" in bundle
    empty, _ = LargePicture(None)._repr_mimebundle_()
    assert empty["text/plain"] == "There is nothing to draw yet."


def test_its_front_end_fetches_nothing() -> None:
    source = LargePicture._esm if isinstance(LargePicture._esm, str) else str(LargePicture._esm)
    assert "want" in source
    for way in ("fetch(", "XMLHttpRequest", "import(", "import ", "://", "WebSocket", "innerHTML", "localStorage"):
        assert way not in source, way
