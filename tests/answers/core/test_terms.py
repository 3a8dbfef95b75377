from __future__ import annotations

from vanwater.answers.core.terms import TERMS
from vanwater.answers.questions import QUESTIONS


def test_a_term_belongs_to_one_question_or_to_several() -> None:
    lists = [TERMS, *(question.terms for question in QUESTIONS.values())]
    names = [term.name for terms in lists for term in terms]
    assert len(set(names)) == len(names) > 40
    assert sum(bool(terms) for terms in lists) > 4
    assert all([term.name for term in terms] == sorted(term.name for term in terms) for terms in lists)
