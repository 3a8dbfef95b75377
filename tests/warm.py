"""A python that has the libraries of the tests already and runs pytest in a child of its own, once a line of its input.

``tests/planted_faults.py`` starts one beside each copy of the checkout. The package itself is read anew in every child.
A line holds pytest's words and the seconds of work that they may take, so that another's load takes nothing from them;
the answer holds the exit code, None where the time was up, and what was printed.
"""

from __future__ import annotations

import contextlib
import importlib
import json
import math
import os
import resource
import signal
import sys
import tempfile
import time

IDLE = 20.0
"""So many times as long may it take by the clock."""

LIBRARIES = (
    "_hypothesis_pytestplugin CoolProp.CoolProp fluids hypothesis iapws jinja2 numpy pandas pint pydantic pytest"
    " rich.console rich.progress rich.table scipy.integrate scipy.optimize scipy.sparse tomlkit"
)


def run(words: list[str], limit: float) -> tuple[int | None, str]:
    """Exit code and output of pytest in a child; no code where its time was up."""
    with tempfile.TemporaryFile("w+") as output:
        child = os.fork()
        if child == 0:
            signal.signal(signal.SIGTERM, signal.SIG_DFL)
            resource.setrlimit(resource.RLIMIT_CPU, (math.ceil(limit), math.ceil(limit) + 1))
            os.setsid()
            os.dup2(output.fileno(), 1)
            os.dup2(output.fileno(), 2)
            os._exit(_pytest(words))
        code = None
        try:
            code = _ended(child, IDLE * limit)
        finally:
            with contextlib.suppress(ProcessLookupError):
                os.killpg(child, signal.SIGKILL)  # and whatever it started itself
        if code is None:
            os.waitpid(child, 0)
        if code in (-signal.SIGXCPU, -signal.SIGKILL):
            code = None
        output.seek(0)
        return code, output.read()


def _pytest(words: list[str]) -> int:
    code = 3
    try:
        import pytest

        code = int(pytest.main(words))
    except SystemExit as ended:
        code = ended.code if isinstance(ended.code, int) else 3
    finally:
        sys.stdout.flush()
        sys.stderr.flush()
    return code


def _ended(child: int, limit: float) -> int | None:
    late = time.monotonic() + limit
    while time.monotonic() < late:
        ended, status = os.waitpid(child, os.WNOHANG)
        if ended:
            return os.waitstatus_to_exitcode(status)
        time.sleep(0.02)
    return None


def main() -> None:
    """Answer each line of the input."""
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(143))
    for name in LIBRARIES.split():
        with contextlib.suppress(ImportError):
            importlib.import_module(name)
    for line in sys.stdin:
        sys.stdout.write(json.dumps(run(**json.loads(line))) + "\n")
        sys.stdout.flush()


if __name__ == "__main__":
    main()
