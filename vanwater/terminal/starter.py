"""A plan to begin with, short or with every field explained, written where there is no file yet."""

from __future__ import annotations

from pathlib import Path

from vanwater.plan.saving import create
from vanwater.plan.tables import resource
from vanwater.terminal.refusal import RefusedError

__all__ = ["start"]


def start(path: Path, full: bool = False) -> None:
    """Write the starter plan.

    Parameters
    ----------
    path : Path
        A file that does not exist yet.
    full : bool
        Whether it is the one in which every field of a plan is explained, instead of a small van.

    Raises
    ------
    RefusedError
        When there is something at that place, or it cannot be written.
    """
    text = resource("data", "starter", "full.toml" if full else "starter.toml").read_bytes()
    try:
        create(path, text)
    except FileExistsError:
        raise RefusedError(f"{path} is there already; nothing was written.\nChoose another name.") from None
    except FileNotFoundError:
        raise RefusedError(f"{path.parent} is no folder; nothing was written.\nMake the folder first.") from None
    except OSError as error:
        raise RefusedError(f"{path} cannot be written: {error.strerror}.") from None
