"""The checks of style and types: part of the one test command, so that they cannot rot."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).resolve().parents[1]


@pytest.mark.parametrize(
    "words",
    [
        ("ruff", "check"),
        ("ruff", "format", "--check"),
        ("mypy",),
    ],
    ids=" ".join,
)
def test_check_finds_nothing(words: tuple[str, ...]) -> None:
    done = subprocess.run(
        [sys.executable, "-m", *words], cwd=ROOT, capture_output=True, text=True, check=False, timeout=300
    )
    assert done.returncode == 0, done.stdout + done.stderr
