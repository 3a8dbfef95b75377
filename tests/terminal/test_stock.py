"""What `vanwater stock` lists: everything a plan may name, and the rows that answer to a word."""

from __future__ import annotations

from pathlib import Path

import pytest

from vanwater.command import main
from vanwater.plan.stock import generic
from vanwater.plan.tables import HABITS, fittings, habits, joints, materials, outlets, pipes


def listed(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    assert main(["stock", *words]) == 0
    captured = capsys.readouterr()
    assert captured.err == ""
    assert max(map(len, captured.out.splitlines())) <= 80
    return captured.out


def test_it_lists_every_name_once_with_what_it_means(capsys: pytest.CaptureFixture[str]) -> None:
    text = listed(capsys)
    names = [
        *pipes(),
        *fittings(),
        *outlets(),
        *joints(),
        *materials(),
        *(name for held in generic().values() for name in held),
    ]
    flat = " ".join(text.split())
    starts = {line.strip() for line in text.splitlines()}
    assert [name for name in names if not any(line.startswith(name) for line in starts) and name not in flat] == []
    assert all(f"{habit} " in flat for habit in HABITS)
    assert "Reinforced PVC hose" in listed(capsys, "pvc hose 10")


@pytest.mark.parametrize(
    ("word", "there", "gone"),
    [
        ("sizes", "pvc hose 12.5 mm", "strainer"),
        ("pipe", "pvc hose 12.5 mm", "strainer"),
        ("fittings", "threaded elbow", "pvc hose 12.5 mm"),
        ("outlets", "outside shower", "threaded elbow"),
        ("joints", "bsp 1/2", "pvc hose"),
        ("pumps", "small submersible pump", "accumulator 1 L"),
        ("accumulator", "accumulator 1 L", "hand pump"),
        ("silicone", "silicone hose 13 mm", "pvc hose"),
        ("24 V", "large diaphragm pump 24 V", "foot pump"),
    ],
)
def test_a_word_leaves_what_answers_to_it(capsys: pytest.CaptureFixture[str], word: str, there: str, gone: str) -> None:
    text = listed(capsys, *word.split())
    assert there in text
    assert gone not in text


def test_the_ready_habits_are_listed_with_their_uses(capsys: pytest.CaptureFixture[str]) -> None:
    text = listed(capsys, "habits")
    for habit in HABITS:
        rows = [line.split()[1] for line in text.splitlines() if line.strip().startswith(f"{habit} ")]
        assert rows == list(habits(habit))


def test_a_few_parts_are_told_as_a_plan_would_write_them(capsys: pytest.CaptureFixture[str]) -> None:
    text = listed(capsys, "hand", "pump")
    assert 'stroke = "0.15 L"' in text
    assert "common practice, from memory" in " ".join(text.split())


def test_us_units_are_shown_where_asked_for(capsys: pytest.CaptureFixture[str]) -> None:
    assert "116 psi" in listed(capsys, "pvc hose 10", "--units", "us")
    assert "8 bar" in listed(capsys, "pvc hose 10")


def test_what_is_no_stock_is_refused_with_the_nearest(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["stock", "pumsp"]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert 'Did you mean "pump"?' in captured.err
    assert "sizes, fittings, outlets" in captured.err


def test_the_shelf_of_a_plan_is_listed_with_price_and_mass(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    (tmp_path / "v.toml").write_text('shelf = "s.csv"\n[van]\nname = "x"\nunits = "us"\n[household]\npeople = 1\n')
    (tmp_path / "s.csv").write_text("table,name,volume,price,mass\naccumulators,\x1b[31mred one,1 L,35 EUR,2 lb\n")
    assert main(["stock", "--plan", str(tmp_path / "v.toml")]) == 2
    assert "cannot be a name" in capsys.readouterr().err
    (tmp_path / "s.csv").write_text("table,name,volume,price,mass\naccumulators,red one,1 L,35 EUR,2 lb\n")
    text = listed(capsys, "red", "--plan", str(tmp_path / "v.toml"))
    assert all(part in text for part in ("red one", "35", "2 lb", "shelf", 'volume = "1 L"'))
