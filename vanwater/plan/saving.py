"""Files put in their places whole or not at all, one writer at a time."""

from __future__ import annotations

import errno
import hashlib
import os
import tempfile
from collections.abc import Callable, Iterator, Mapping
from contextlib import ExitStack, contextmanager, suppress
from pathlib import Path

from filelock import FileLock, Timeout

__all__ = ["create", "replace_file", "replace_files", "swept"]

PATIENCE = 30.0
"""Seconds that one waits for another one who saves the same file."""


def replace_file(path: Path, data: bytes, see: Callable[[], None] | None = None) -> None:
    """Put a file in the place of another: the old or the new one, whole, whatever happens.

    Parameters
    ----------
    path : Path
        Where it lies; a link stays a link.
    data : bytes
        What it holds.
    see : callable, optional
        Looks whether it may be written, while nobody else saves it; raises where it may not.

    Raises
    ------
    OSError
        When the folder cannot be written, or somebody else saves the same file for half a minute.
    """
    replace_files({path: data}, see)


def replace_files(files: Mapping[Path, bytes], see: Callable[[], None] | None = None) -> None:
    """Put files that belong together in the places of others: where one of them finds no room, all the old ones stay.

    Parameters
    ----------
    files : mapping of Path to bytes
        Where each lies, and what it holds; a link stays a link.
    see : callable, optional
        Looks whether they may be written, while nobody else saves them; raises where they may not.

    Raises
    ------
    OSError
        With the name of the file that cannot be written, or that somebody else saves for half a minute.
    """
    targets = {path.resolve(): path for path in files}
    folders = dict.fromkeys(target.parent for target in targets)
    for folder in folders:
        _left_by_others(folder)
    with ExitStack() as alone:
        for target in sorted(targets):
            alone.enter_context(_alone(target))
        if see is not None:
            see()
        parts: dict[Path, Path] = {}
        try:
            for target, path in targets.items():
                parts[target] = _begun(target, path, files[path])
            for target, part in parts.items():
                part.replace(target)
        except BaseException:
            for part in parts.values():
                _away(part)
            raise
        for folder in folders:
            _settled(folder)


def create(path: Path, data: bytes) -> None:
    """Write a file where there is none yet, whole or not at all.

    Parameters
    ----------
    path : Path
        Where.
    data : bytes
        What it holds.

    Raises
    ------
    FileExistsError
        When something lies there.
    OSError
        When the folder cannot be written.
    """
    target = path.parent.resolve() / path.name
    with _alone(target):
        if os.path.lexists(target):
            raise FileExistsError(17, os.strerror(17), str(path))
        part = _written(target, data, 0o644)
        try:
            part.rename(target)
        except BaseException:
            _away(part)
            raise
        _settled(target.parent)


def swept(path: Path) -> None:
    """Take away what somebody who was killed while saving a file left beside it.

    Parameters
    ----------
    path : Path
        The file; it stays.
    """
    target = path.resolve()
    with _alone(target):
        _away(_part(target))


def _digest(target: Path) -> str:
    return hashlib.sha256(os.fsencode(target)).hexdigest()[:16]


@contextmanager
def _alone(target: Path) -> Iterator[None]:
    """Keep others of the same user from saving the same file meanwhile, by a lock beside temporary files."""
    lock = _lock(_digest(target), PATIENCE)
    try:
        lock.acquire()
    except Timeout:
        raise TimeoutError(errno.ETIMEDOUT, "somebody else saves it", str(target)) from None
    try:
        yield
    finally:
        lock.release()


def _lock(digest: str, patience: float) -> FileLock:
    lock = Path(tempfile.gettempdir()) / f"vanwater-{_user()}-{digest}.lock"
    return FileLock(lock, timeout=patience, mode=0o600)


def _user() -> int | str:
    mine: int | str = getattr(os, "getuid", lambda: "me")()
    return mine


def _part(target: Path) -> Path:
    return target.parent / f".vanwater-{_digest(target)}.part"


def _left_by_others(folder: Path) -> None:
    """Take away what runs that were killed left in a folder, of whichever file; what somebody saves right now stays."""
    with suppress(OSError):
        for part in folder.glob(".vanwater-*.part"):
            if _user() in ("me", part.stat().st_uid):
                with suppress(Timeout), _lock(part.stem.removeprefix(".vanwater-"), 0):
                    _away(part)


def _written(target: Path, data: bytes, rights: int) -> Path:
    """The new file beside its place, on the disk. What somebody who was killed left there is taken away first."""
    part = _part(target)
    _away(part)
    try:
        handle = os.open(part, os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0), 0o600)
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        part.chmod(rights)
    except BaseException:
        _away(part)
        raise
    return part


def _begun(target: Path, path: Path, data: bytes) -> Path:
    """The new file beside its place; what stands against it names the place as its user does."""
    try:
        rights = target.stat().st_mode & 0o7777 if target.exists() else 0o644
        return _written(target, data, rights)
    except OSError as error:
        error.filename = str(path)
        raise


def _away(part: Path) -> None:
    with suppress(OSError):
        part.unlink()


def _settled(folder: Path) -> None:
    """Let the folder's own entry reach the disk, where the system can."""
    with suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
