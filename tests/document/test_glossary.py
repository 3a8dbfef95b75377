from __future__ import annotations

import pytest

from vanwater.document.glossary import TERMS, terms_in


def test_every_term_is_explained_once_in_the_order_of_the_alphabet():
    names = [term.name for term in TERMS]
    assert names == sorted(names)
    forms = [form for term in TERMS for form in (term.name, *term.forms)]
    assert len(set(forms)) == len(forms)
    assert all(form == form.lower() for form in forms)
    assert all(term.meaning.endswith(".") and term.meaning[0].isupper() for term in TERMS)


@pytest.mark.parametrize("term", TERMS, ids=lambda term: term.name)
def test_each_form_is_found_in_a_sentence(term):
    for form in (term.name, *term.forms):
        assert term in terms_in(f"Mind the {form.capitalize()}, please.")


def test_only_whole_words_count():
    assert terms_in("A bored teetotaller was rolling prunes.") == ()
    assert [term.name for term in terms_in("The pump draws through a strainer; bore 8 mm.")] == ["bore", "strainer"]
    assert terms_in("") == ()
