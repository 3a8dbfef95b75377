from __future__ import annotations

from vanwater.panels.trusted import trusted


def test_without_its_style_sheet_only_the_sentence_is_in_sight() -> None:
    made = trusted("<b>it</b>", "The <drawing> is shown", ".vw-x{color:red}")
    style, rest = made.removeprefix("<style>").split("</style>")
    assert style.endswith(".vw-x{color:red}")
    assert '<div class="vw-trusted" hidden="hidden"><b>it</b></div>' in rest
    assert "The &lt;drawing&gt; is shown when this notebook is trusted or has run." in rest
    assert ".vw-trusted[hidden]{display:block!important}" in style and ".vw-untrusted{display:none}" in style
