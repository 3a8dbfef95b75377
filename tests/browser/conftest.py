"""One JupyterLab a module, on this machine only, with the module's notebook and a plan in hand."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from tests.browser.pages import lab_in
from vanwater.plan.tables import resource


@pytest.fixture(scope="module")
def folder(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the notebook that the module calls ``NOTEBOOK``, and a plan of its own."""
    folder = tmp_path_factory.mktemp("lab")
    shutil.copyfile(resource("notebooks", request.module.NOTEBOOK), folder / request.module.NOTEBOOK)
    shutil.copyfile(resource("data", "plans", "family-winter.toml"), folder / "van.toml")
    return folder


@pytest.fixture(scope="module")
def asked() -> list[str]:
    """Every address that the module's page asked for."""
    return []


@pytest.fixture(scope="module")
def lab(folder: Path, tmp_path_factory: pytest.TempPathFactory) -> Iterator[str]:
    """The address of a JupyterLab in the module's folder."""
    with lab_in(folder, tmp_path_factory.mktemp("home")) as address:
        yield address
