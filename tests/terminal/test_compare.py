"""What `vanwater compare` says of two plans."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.examples import PLANS
from vanwater.command import main

WINTER = PLANS / "family-winter.toml"


@pytest.fixture(scope="module")
def other(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The winter van with a longer grey tank and its water heated by diesel."""
    text = WINTER.read_text(encoding="utf-8").replace('length = "0.80 m"', 'length = "1.10 m"')
    text = text.replace('source = "inverter"\nwhy', 'source = "diesel"\nwhy').replace(
        'power = "1200 W"\nvolts = "230 V"', 'power = "4500 W"'
    )
    path = tmp_path_factory.mktemp("compared") / "diesel.toml"
    path.write_text(text, encoding="utf-8")
    return path


def told(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    assert main(["compare", *words]) == 0
    captured = capsys.readouterr()
    assert captured.err == ""
    assert max(map(len, captured.out.splitlines())) <= 80
    return captured.out


def test_the_headline_findings_and_what_the_plans_say(capsys: pytest.CaptureFixture[str], other: Path) -> None:
    text = told(capsys, str(WINTER), str(other))
    flat = " ".join(text.replace("\N{NO-BREAK SPACE}", " ").split())
    assert text.startswith("diesel beside family-winter\n")
    for words in ("days off-grid", "what ends the", "+34 kg", "What comes up or gets worse", "What is gone or gets"):
        assert words in flat
    assert "tanks.grey.length 0.8 m 1.10 m" in flat and "further numbers differ too" in flat


def test_all_of_it_in_the_other_units(capsys: pytest.CaptureFixture[str], other: Path) -> None:
    text = told(capsys, str(WINTER), str(other), "--all", "--units", "us")
    assert "gal/min" in text and "lb" in text and "further numbers" not in text and len(text.splitlines()) > 100


def test_several_stand_one_after_the_other(capsys: pytest.CaptureFixture[str], other: Path) -> None:
    text = told(capsys, str(WINTER), str(other), str(PLANS / "touring-campsites.toml"))
    assert "\n\ntouring-campsites beside family-winter\n" in text


def test_a_plan_beside_a_copy_says_the_same(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    copy = tmp_path / "copy.toml"
    copy.write_text((PLANS / "touring-campsites.toml").read_text(encoding="utf-8"), encoding="utf-8")
    text = told(capsys, str(PLANS / "touring-campsites.toml"), str(copy))
    assert "The plans say the same." in text and "What comes up" not in text


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ([str(WINTER), str(WINTER)], "Two of them are called"),
        ([str(WINTER), "none.toml"], "none.toml"),
    ],
)
def test_what_cannot_be_compared_is_refused(capsys: pytest.CaptureFixture[str], words: list[str], said: str) -> None:
    assert main(["compare", *words]) == 2
    captured = capsys.readouterr()
    assert captured.out == "" and said in captured.err


def test_one_plan_alone_is_a_slip(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit):
        main(["compare", str(WINTER)])
    assert "OTHER" in capsys.readouterr().err


def test_a_change_order_is_written_as_a_page_and_only_of_two_plans(
    capsys: pytest.CaptureFixture[str], other: Path, tmp_path: Path
) -> None:
    page = tmp_path / "change.html"
    assert main(["compare", str(WINTER), str(other), "-o", str(page)]) == 0
    assert "is written as a web page" in " ".join(capsys.readouterr().out.split())
    assert "from family-winter to diesel" in page.read_text(encoding="utf-8")
    assert main(["compare", str(WINTER), str(other), str(other), "-o", str(page)]) == 2
    assert "made of two plans" in capsys.readouterr().err
