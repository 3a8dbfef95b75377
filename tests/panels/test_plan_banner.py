from __future__ import annotations

import json
import os
from pathlib import Path

from vanwater.panels.initial_plan import EXAMPLE, PLAN_VARIABLE
from vanwater.panels.plan_banner import SHOWS, START, file_line, fingerprint, in_hand, named_in_words, path_in_hand
from vanwater.plan.file import PlanFile

SHELF = 'shelf = "shelf.toml"\n'


def test_the_line_names_van_revision_file_and_when_it_was_saved(own_file: PlanFile) -> None:
    os.utime(own_file.path, (1_750_000_000, 1_750_000_000))
    shown = in_hand({PLAN_VARIABLE: str(own_file.path)})
    assert shown.text.startswith("Family van, winter use, revision 4 \N{EN DASH} van.toml, saved 2025-06-1")
    assert shown.text.endswith(f"(fingerprint {fingerprint(own_file.path)})")
    assert f'<a href="{START}">' in shown.html


def test_the_example_is_called_one() -> None:
    assert path_in_hand({}).name == EXAMPLE
    assert in_hand({}).text == f"Example: Family van, winter use, revision 4 \N{EN DASH} {EXAMPLE}"


def test_a_plan_that_cannot_be_used_or_is_gone_is_told(tmp_path: Path) -> None:
    path = tmp_path / "van.toml"
    path.write_text("no plan", encoding="utf-8")
    assert "cannot be used as it is. The start page tells why." in in_hand({PLAN_VARIABLE: str(path)}).text
    path.unlink()
    assert "van.toml, which cannot be read" in in_hand({PLAN_VARIABLE: str(path)}).text


def test_a_name_is_only_ever_text(own_file: PlanFile) -> None:
    own_file.revised("van.name", "<img src=x> & co").save()
    assert "<img" not in in_hand({PLAN_VARIABLE: str(own_file.path)}).html


def test_the_fingerprint_follows_the_content_of_plan_and_shelf(tmp_path: Path) -> None:
    path, shelf = tmp_path / "van.toml", tmp_path / "shelf.toml"
    path.write_text(SHELF, encoding="utf-8")
    shelf.write_text("", encoding="utf-8")
    before = fingerprint(path)
    path.touch()
    assert fingerprint(path) == before
    assert len(before) == 8
    shelf.write_text("# other\n", encoding="utf-8")
    between = fingerprint(path)
    path.write_text(SHELF + "\n", encoding="utf-8")
    assert len({before, between, fingerprint(path)}) == 3
    assert fingerprint(tmp_path / "gone.toml") == ""


def test_what_is_no_text_has_a_fingerprint_too(tmp_path: Path) -> None:
    (tmp_path / "van.toml").write_bytes(b"\xff\xfe")
    assert fingerprint(tmp_path / "van.toml")
    assert "van.toml, saved" in file_line(tmp_path / "van.toml")


def test_a_notebooks_words_name_the_plan_in_hand(own_file: PlanFile, tmp_path: Path) -> None:
    words = f"# Days?\n\n{SHOWS}whatever stood here.*\n\nSo many."
    own = {PLAN_VARIABLE: str(own_file.path)}
    shows = named_in_words(words, own)
    assert shows == "# Days?\n\n*This page shows Family van&#44; winter use, revision 4, of `van.toml`.*\n\nSo many."
    assert named_in_words(shows, own) == shows
    example = f"*This page shows an example until you run it: Family van&#44; winter use, of `{EXAMPLE}`.*"
    assert named_in_words(shows, {}) == f"# Days?\n\n{example}\n\nSo many."
    assert named_in_words("So many.", own) == "So many."
    gone = named_in_words(words, {PLAN_VARIABLE: str(tmp_path / "gone.toml")})
    assert "*This page shows the plan in `gone.toml`, once it can be used.*" in gone


def test_every_notebook_of_the_repository_that_shows_the_plan_in_hand_says_so() -> None:
    folder = Path(__file__).parents[2] / "notebooks"
    for path in sorted(folder.glob("*.ipynb")):
        first = json.loads(path.read_text(encoding="utf-8"))["cells"][0]
        text = "".join(first["source"])
        assert (named_in_words(text, {}) == text) and (SHOWS in text) == (path.stem != "06_from_python"), path.stem
