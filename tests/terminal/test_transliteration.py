from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from vanwater.terminal.transliteration import shows, spelled

ENCODINGS = ("ascii", "cp1252", "cp437", "latin-1", "cp850", "koi8-r")


@given(st.text(), st.sampled_from(ENCODINGS))
def test_every_text_can_be_written_in_every_encoding(text: str, encoding: str) -> None:
    assert shows(spelled(text, encoding), encoding)


@given(st.text())
def test_what_an_encoding_has_stays_as_it_is(text: str) -> None:
    kept = text.encode("cp1252", "ignore").decode("cp1252")
    assert spelled(kept, "cp1252") == kept


@given(st.text(alphabet=st.characters(exclude_categories=("Cs",))))
def test_utf_8_needs_no_spelling(text: str) -> None:
    assert spelled(text, "utf-8") == text


@pytest.mark.parametrize(
    ("text", "plain"),
    [
        ("3 m³ at 10⁻⁷", "3 m^3 at 10^-7"),
        ("−4 °C", "-4 deg C"),
        ("ρ v²/2 ≤ Δp", "rho v^2/2 <= Deltap"),
        ("p₀ (1 − x)", "p0 (1 - x)"),
        ("change → gain…", "change -> gain..."),
        ("Fröhlich", "Frohlich"),
        ("1/2\N{NO-BREAK SPACE}in", "1/2 in"),
        ("中", "?"),
    ],
)
def test_ascii_words(text: str, plain: str) -> None:
    assert spelled(text, "ascii") == plain


def test_signs_that_a_code_page_has_are_kept() -> None:
    assert spelled("60 °C × 2 m³ → 3 µm", "cp1252") == "60 °C × 2 m³ -> 3 µm"
