from __future__ import annotations

from vanwater.panels.page_watch import PageWatch


def test_the_page_tells_its_name_and_nothing_else_is_taken() -> None:
    told: list[str] = []
    watch = PageWatch(told.append)
    for content in ({"page": "a"}, {"page": ""}, {"page": 3}, {}, "a", None, {"page": "x" * 1000}):
        watch._told(watch, content, [])
    assert told == ["a", "x" * 64]


def test_it_asks_nobody_outside() -> None:
    assert "http" not in PageWatch._esm
    assert "import" not in PageWatch._esm
