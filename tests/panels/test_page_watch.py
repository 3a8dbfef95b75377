from __future__ import annotations

from vanwater.panels.page_watch import PageWatch


def test_the_page_tells_its_name_and_nothing_else_is_taken() -> None:
    told: list[str] = []
    watch = PageWatch(told.append)
    for content in ({"page": "a"}, {"page": ""}, {"page": 3}, {}, "a", None, {"page": "x" * 1000}):
        watch._told(watch, content, [])
    assert told == ["a", "x" * 64]


def test_the_page_tells_how_wide_the_picture_is() -> None:
    widths: list[float] = []
    watch = PageWatch([].append)
    watch.room = widths.append
    for content in ({"wide": 330.5}, {"wide": 0}, {"wide": -1}, {"wide": "9"}, {"page": "a"}, {"wide": None}):
        watch._told(watch, content, [])
    assert widths == [330.5]


def test_it_asks_nobody_outside() -> None:
    assert "http" not in PageWatch._esm
    assert "import" not in PageWatch._esm
