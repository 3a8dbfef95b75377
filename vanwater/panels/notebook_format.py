"""The form of a notebook's file, read and written by nbformat."""

from __future__ import annotations

import json
import sys
from importlib import import_module
from typing import Any

__all__ = ["METADATA", "kernel_here", "nbformat", "written_out"]

METADATA = {
    "kernelspec": {"display_name": "Python 3", "language": "python", "name": "python3"},
    "language_info": {"name": "python"},
}
"""What a notebook says of the kernel that runs it, alike on every machine."""


def nbformat() -> Any:
    """The library, imported without a grammar for international addresses.

    That grammar takes a second to compile, and no notebook of ours holds such an address; the library does without it.
    """
    modules: Any = sys.modules
    modules.setdefault("rfc3987_syntax", None)
    return import_module("nbformat")


def kernel_here() -> dict[str, Any]:
    """What a notebook says of the kernel of this machine: an editor that opens it has nothing to add."""
    name = import_module("ipykernel.kernelspec").get_kernel_dict()["display_name"]
    kernel: Any = import_module("ipykernel.ipkernel").IPythonKernel
    return {
        "kernelspec": {"display_name": name, "language": "python", "name": "python3"},
        "language_info": dict(kernel.language_info),
    }


def written_out(notebook: Any) -> str:
    """A notebook as the text of its file; HTML, which nobody reads line by line, takes one line."""
    laid = json.loads(nbformat().writes(notebook))
    for cell in laid["cells"]:
        for output in cell.get("outputs", ()):
            shown = output.get("data", {})
            if isinstance(shown.get("text/html"), list):
                shown["text/html"] = "".join(shown["text/html"])
    return json.dumps(laid, ensure_ascii=False, indent=1, sort_keys=True, separators=(",", ": ")) + "\n"
