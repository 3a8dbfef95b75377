from __future__ import annotations

from vanwater.document.sources import Named, Sources


def test_the_same_source_has_the_same_number_once():
    sources = Sources()
    assert sources.named("Crane (1988), TP-410.") == Named(1, "Crane (1988), TP-410.")
    assert sources.named("10 CFR 430.32") == Named(2, "10 CFR 430.32")
    assert sources.named(" Crane  (1988),\nTP-410") == Named(1, "Crane (1988), TP-410.")
    assert sources.texts == ["Crane (1988), TP-410.", "10 CFR 430.32"]


def test_a_habit_or_a_method_is_told_in_words():
    sources = Sources()
    assert sources.named("common practice") == Named(0, "common practice")
    assert sources.named("sum of the uses") == Named(0, "sum of the uses")
    assert sources.texts == []


def test_no_source_is_none():
    assert Sources().named("") is None
    assert Sources().named(" . ") is None
