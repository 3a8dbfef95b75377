from __future__ import annotations

import re

from vanwater.panels.style import STYLE


def test_it_is_one_element_whose_rules_are_whole() -> None:
    assert STYLE.startswith("<style>")
    assert STYLE.endswith("</style>")
    assert STYLE.count("<") == 2
    assert STYLE.count("{") == STYLE.count("}") > 20


def test_every_rule_stays_within_a_panel() -> None:
    rules = re.findall(r"([^{}]+)\{", STYLE.removeprefix("<style>"))
    for selector in ",".join(rules).split(","):
        if re.fullmatch(r"@container \(max-width:\d+px\)|@media \(prefers-color-scheme:dark\)", selector.strip()):
            continue
        assert ".vw-" in selector, selector


def test_it_asks_nobody_for_anything() -> None:
    assert not re.search(r"url\(|@import|http", STYLE)


def test_what_changes_has_a_fixed_height() -> None:
    for piece in (".vw-verdict", ".vw-slot", ".vw-head.widget-html,.vw-head .widget-html-content"):
        rules = re.findall(re.escape(piece) + r"\{([^}]*)\}", STYLE)  # the panel's, and those of narrow panels
        assert rules and all(re.search(r"\bheight:\d+px", rule) for rule in rules), piece
