from __future__ import annotations

import re
import struct
import xml.etree.ElementTree as ET

from tests.pictures import PICTURES, SCREEN, drawings

README = PICTURES.parents[1] / "README.md"
MOST = 150_000  # bytes of a picture


def test_the_drawings_are_those_of_the_example_van_to_the_byte() -> None:
    for name, svg in drawings().items():
        assert (PICTURES / name).read_text(encoding="utf-8") == svg, f"python -m tests.pictures draws {name} anew"
        ET.fromstring(svg)


def test_readme_shows_each_of_them_with_words_and_each_is_small() -> None:
    told = README.read_text(encoding="utf-8")
    shown = {file: words for words, file in re.findall(r"!\[([^\]]+)\]\((\S+)\)", told)}
    assert set(shown) == {f"data/pictures/{path.name}" for path in PICTURES.iterdir()}
    assert {f"data/pictures/{name}" for name in (*drawings(), SCREEN)} == set(shown)
    assert all(len(words) > 40 for words in shown.values())
    assert all(path.stat().st_size < MOST for path in PICTURES.iterdir())


def test_the_picture_of_the_screen_is_one() -> None:
    head = (PICTURES / SCREEN).read_bytes()[:24]
    assert head[:8] == b"\x89PNG\r\n\x1a\n"
    wide, high = struct.unpack(">II", head[16:24])
    assert wide > 900 and high > 600
