"""What pytest takes before its plugins (``-p tests.lean_start``): nbval comes without a grammar that nobody here reads.

jsonschema, which nbformat takes, compiles a grammar for international addresses where it finds one. That takes more
than a second of every process, and no notebook and no schema of ours holds such an address.
"""

from __future__ import annotations

import sys
from typing import Any

__all__ = ["START_OF_JUPYTERLAB"]

modules: Any = sys.modules
modules.setdefault("rfc3987_syntax", None)

START_OF_JUPYTERLAB = "import tests.lean_start; from jupyterlab.labapp import main; main()"
