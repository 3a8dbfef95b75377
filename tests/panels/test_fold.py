from __future__ import annotations

from vanwater.panels.fold import Fold, row


def test_a_text_is_made_only_while_somebody_sees_it() -> None:
    made: list[int] = []

    def make() -> str:
        made.append(1)
        return f"text {len(made)}"

    fold = Fold("sums", make)
    fold.refresh()
    assert made == []
    assert fold.body.layout.display == "none"
    fold.button.value = True
    assert (fold.text.value, fold.body.layout.display) == ("<h4>sums</h4>text 1", "")
    assert fold.button.description == "▾ sums"
    fold.refresh()
    assert fold.text.value == "<h4>sums</h4>text 2"
    fold.button.value = False
    assert (fold.text.value, fold.body.layout.display) == ("", "none")
    assert len(made) == 2


def test_a_fold_can_be_cleared_and_go_without_a_title() -> None:
    fold = Fold("more", lambda: "text", titled=False)
    fold.button.value = True
    assert fold.text.value == "text"
    fold.clear()
    assert fold.text.value == ""


def test_buttons_stand_in_one_row_above_their_texts() -> None:
    folds = [Fold(title, lambda: "") for title in ("one", "two")]
    box = row(folds)
    assert box.children[0].children == tuple(fold.button for fold in folds)
    assert box.children[1:] == tuple(fold.body for fold in folds)
