"""What is handed on of one plan, and the plan itself as it was made of it: all of it, or nothing."""

from __future__ import annotations

from collections.abc import Sequence
from contextlib import suppress
from pathlib import Path

from vanwater.document.output_file import COPY, PAGE, Kind, NotWrittenError, not_written, sealed, target
from vanwater.document.papers import in_form
from vanwater.document.writings import Subject, Writing, file_name
from vanwater.plan.file import PlanFile
from vanwater.plan.saving import replace_files

__all__ = ["copy_of", "hand_on"]


def hand_on(
    writings: Sequence[Writing], of: Subject, plan: PlanFile, folder: Path, form: Kind = PAGE
) -> tuple[Path, ...]:
    """Write something of a plan, and a copy of the plan where its file says something else.

    Parameters
    ----------
    writings : sequence of Writing
        What is wanted.
    of : Subject
        The plan with its answers, as it is handed on.
    plan : PlanFile
        The same plan, with the text that its file would have.
    folder : Path
        Where to.
    form : Kind
        In what papers are written; what has no such form is written in its usual one.

    Returns
    -------
    tuple of Path
        What was written.

    Raises
    ------
    NotWrittenError
        When something lies there that vanwater did not write, a disk refuses it, or no browser prints a PDF; with
        what to do. What lay there before is kept.
    """
    stem, situation = plan.path.stem, of.answers.plan.situation
    forms = {each: form if form in each.forms else each.forms[0] for each in writings}
    places = {folder / file_name(each, stem, situation, kind): each for each, kind in forms.items()}
    copy = folder / f"{stem} handed on.toml"
    needed = not _says(folder / plan.path.name, plan)
    kinds: dict[Path, Kind] = {place: forms[each] for place, each in places.items()}
    if needed:
        kinds[copy] = COPY
        _see_shelf(plan, folder)

    def free() -> None:
        for place, kind in kinds.items():
            target(place, plan.path, kind)

    free()
    data = {place: in_form(each.text(of), forms[each], of.date) for place, each in places.items()}
    if needed:
        data[copy] = copy_of(plan)
    try:
        replace_files(data, free)
    except OSError as error:
        raise not_written(error.filename or next(iter(data)), error) from None
    return tuple(data)


def _see_shelf(plan: PlanFile, folder: Path) -> None:
    """See that a copy of the plan can be read where it will lie."""
    shelf = plan.plan.own.get("shelf")
    if shelf and folder.is_dir() and not (folder / shelf).is_file():
        raise NotWrittenError(
            f"{folder} lacks {shelf}, the shelf of the plan, without which no copy of it can be read. "
            "Nothing was written.\nCopy that file there first."
        )


def _says(file: Path, plan: PlanFile) -> bool:
    """Whether a file that lies there is the plan to the byte."""
    with suppress(OSError):
        return file.read_bytes() == plan.data
    return False


def copy_of(plan: PlanFile) -> bytes:
    """A plan's file with a first line that says what it is, by which it is known again while nobody has changed it.

    Parameters
    ----------
    plan : PlanFile
        The plan.

    Returns
    -------
    bytes
        The copy.
    """
    ending = "\r\n" if "\r\n" in plan.text else "\n"
    return sealed(COPY, b"", f"{ending}{plan.text}".encode())
