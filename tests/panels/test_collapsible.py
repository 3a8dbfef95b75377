from __future__ import annotations

from typing import Any

import ipywidgets as widgets

from vanwater.panels.collapsible import Collapsible, row


def test_a_text_is_made_only_while_somebody_sees_it() -> None:
    made: list[int] = []

    def make() -> str:
        made.append(1)
        return f"text {len(made)}"

    collapsible = Collapsible("sums", make)
    collapsible.refresh()
    assert made == []
    assert collapsible.body.layout.display == "none"
    collapsible.button.value = True
    assert (collapsible.text.value, collapsible.body.layout.display) == ("<h4>sums</h4>text 1", "")
    assert collapsible.button.description == "▾ sums"
    collapsible.refresh()
    assert collapsible.text.value == "<h4>sums</h4>text 2"
    collapsible.button.value = False
    assert (collapsible.text.value, collapsible.body.layout.display) == ("", "none")
    assert len(made) == 2


def test_a_fold_can_go_without_a_title() -> None:
    collapsible = Collapsible("more", lambda: "text", titled=False)
    collapsible.button.value = True
    assert collapsible.text.value == "text"


def test_widgets_inside_are_made_when_it_is_first_unfolded() -> None:
    made: list[int] = []

    def inside() -> list[Any]:
        made.append(1)
        return [widgets.HTML("inside")]

    collapsible = Collapsible("more", lambda: "", inside)
    assert made == []
    for unfolded in (True, False, True):
        collapsible.button.value = unfolded
    assert made == [1]
    assert [child.value for child in collapsible.body.children] == ["inside", "<h4>more</h4>"]


def test_buttons_stand_in_one_row_above_their_texts() -> None:
    folds = [Collapsible(title, lambda: "") for title in ("one", "two")]
    box = row(folds)
    assert box.children[0].children == tuple(collapsible.button for collapsible in folds)
    assert box.children[1:] == tuple(collapsible.body for collapsible in folds)
