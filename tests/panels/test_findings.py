from __future__ import annotations

from tests.answered import answered
from vanwater.answers.core.finding import Finding, Verdict
from vanwater.answers.core.question import Answer
from vanwater.answers.core.statement import say
from vanwater.answers.core.working import stated
from vanwater.panels.findings import Findings
from vanwater.quantities import DAY, STAY


def answer(*keys: str, days: float = 2.0) -> Answer:
    first = stated("the first", days * DAY, STAY, "By counting.", source="common practice").keyed("a", "1")
    return answered(
        key="a",
        title="t",
        verdict=say("v"),
        findings=tuple(
            Finding(key, Verdict.FINE, say("This is {key}.", key=key), value=first.amount if key == "a.1" else None)
            for key in keys
        ),
        numbers={"a.1": first},
    )


def test_three_are_in_sight_and_the_rest_is_folded() -> None:
    findings = Findings()
    findings.show(answer("a.1", "a.2", "a.3", "a.4", "a.5"))
    assert ["This is a." in slot.text.value for slot in findings.slots] == [True] * 3
    assert findings.rest.button.layout.display == ""
    findings.rest.button.value = True
    assert "This is a.4." in findings.rest.text.value
    assert "This is a.5." in findings.rest.text.value
    findings.show(answer("a.1"))
    assert [bool(slot.text.value) for slot in findings.slots] == [True, False, False]
    assert findings.rest.button.layout.display == "none"


def test_why_unfolds_the_sum_and_stays_with_its_finding() -> None:
    findings = Findings()
    findings.show(answer("a.1", "a.2"))
    first, second = findings.slots[:2]
    assert (first.why.layout.visibility, second.why.layout.visibility) == ("visible", "hidden")
    assert first.sum.value == ""
    first.why.value = True
    assert "the first = 2" in first.sum.value
    findings.show(answer("a.2", "a.1", days=3.0))  # another one is worse now
    assert (first.why.value, first.sum.value) == (False, "")
    assert second.why.value
    assert "the first = 3" in second.sum.value
    second.why.value = False
    assert second.sum.value == ""


def test_cleared_findings_show_nothing() -> None:
    findings = Findings()
    findings.show(answer("a.1", "a.2", "a.3", "a.4"))
    findings.slots[0].why.value = True
    findings.clear()
    assert [slot.text.value + slot.sum.value for slot in findings.slots] == [""] * 3
    assert findings.rest.button.layout.display == "none"


def test_places_come_with_their_findings_and_stay() -> None:
    findings = Findings()
    findings.show(answer("a.1", "a.2"))
    assert [slot.widget.layout.display for slot in findings.slots] == ["", "", "none"]
    findings.show(answer("a.1", "a.2", "a.3"))
    findings.show(answer("a.1"))
    assert [slot.widget.layout.display for slot in findings.slots] == ["", "", ""]


def test_all_that_fails_is_in_sight() -> None:
    fails = tuple(Finding(f"outlets.tap {place}.flow", Verdict.FAILS, say("It fails.")) for place in range(7))
    fine = Finding("outlets.basin.flow", Verdict.FINE, say("It is fine."))
    findings = Findings()
    findings.show(answered(key="a", title="t", verdict=say("v"), findings=(*fails, fine)))
    assert [slot.text.value.count("It fails.") for slot in findings.slots] == [1] * 7
    assert len(findings.widget.children) == 9
    findings.rest.button.value = True
    assert "It is fine." in findings.rest.text.value and "It fails." not in findings.rest.text.value
    findings.show(answer("a.1"))
    assert [bool(slot.text.value) for slot in findings.slots] == [True] + [False] * 6
