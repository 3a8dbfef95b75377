"""One JupyterLab a module, on this machine only."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.browser.pages import lab_in


@pytest.fixture(scope="module")
def lab(folder: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of a JupyterLab in the module's folder."""
    with lab_in(folder, tmp_path_factory.mktemp("home")) as address:
        yield address
