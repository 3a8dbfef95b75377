"""Which revision is signed is told, and whether the plan has changed since; what nobody can tell is said so."""

from __future__ import annotations

from tests.examples import example
from vanwater.answers.signed import signed
from vanwater.plan.fingerprint import fingerprint

SAID = {"on": "1 March 2027", "what": "a larger can", "by": "us", "signed": "A. and B., 2 March 2027"}


def test_a_signed_plan_is_known_until_a_value_changes() -> None:
    plan = example("weekend-cans")
    sealed = plan.changed({"revisions.B": SAID | {"fingerprint": fingerprint(plan)}})
    told = signed(sealed)
    assert told is not None
    assert told.text() == "Signed revision B (A. and B., 2 March 2027). The plan has not changed since."
    later = sealed.changed({"revisions.C": {"on": "3 March 2027"}, "van.revision": "C"})
    assert str(signed(later)) == str(told)
    changed = signed(later.changed({"household.people": 3}))
    assert changed is not None and changed.text().endswith("The plan has changed since.")


def test_the_last_one_that_is_signed_counts() -> None:
    plan = example("weekend-cans")
    twice = plan.changed({"revisions.A": SAID, "revisions.B": SAID | {"fingerprint": fingerprint(plan)}})
    told = signed(twice)
    assert told is not None and told.text().startswith("Signed revision B ")


def test_without_a_signature_nothing_is_said_and_without_a_fingerprint_nothing_is_claimed() -> None:
    plan = example("weekend-cans")
    assert signed(plan) is None and signed(plan.changed({"revisions.B": SAID | {"signed": ""}})) is None
    unsealed = plan.changed({"revisions.B": SAID})
    told = signed(unsealed)
    assert told is not None and "nobody can tell whether the plan has changed since" in told.text()
    assert signed(unsealed.in_situation("late frost")) is None
