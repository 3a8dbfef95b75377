"""What is handed on of a bench: as it stands, in the situation that is chosen, so that its numbers are those shown."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from vanwater.document.output_file import FORMS, PAPERS
from vanwater.document.writings import WRITINGS, Subject
from vanwater.panels.followed import Followed
from vanwater.panels.keeping import SAVED_LETTER
from vanwater.panels.write_back import folder_of

if TYPE_CHECKING:
    from vanwater.figures.schematic.parts import Shows

__all__ = ["ENDINGS", "hand_on"]

ENDINGS = {form.endings[0].removeprefix("."): form for form in FORMS}
"""The forms of a paper by the ending of its file."""


def hand_on(
    bench: Followed,
    what: Sequence[str] = (),
    *,
    form: str = "html",
    since: str = SAVED_LETTER,
    folder: Path | str | None = None,
    shows: Shows = "size",
    outlet: str = "",
) -> tuple[Path, ...]:
    """Write papers, lists and drawings of the plan on a bench; see :meth:`vanwater.panels.bench.Bench.hand_on`.

    Parameters
    ----------
    bench : Followed
        Whose plan it is.
    what : sequence of str
        Keys of what can be written; the three papers without any.
    form : {"html", "pdf", "md"}
        In what papers are written.
    since : str
        From what a change order begins.
    folder : Path or str, optional
        Where to.
    shows, outlet
        What the plumbing shows, as in :meth:`vanwater.panels.bench.Bench.drawing`.

    Returns
    -------
    tuple of Path
        What was written.

    Raises
    ------
    KeyError
        When there is no such thing, form, variant or outlet.
    PlanError
        When the plan is impossible, or was not read from a file.
    NotWrittenError
        When it may not or cannot be written, with what to do.
    """
    for asked, known in (*((key, WRITINGS) for key in what), (form, ENDINGS)):
        if asked not in known:
            raise KeyError(f"There is no {asked!r} to be written; there are {', '.join(known)}.")
    from vanwater.document.hand_on import hand_on as written  # it brings the templates along

    plan, answers = bench.handed(), bench.answers
    change = bench.change_since(since) if "change" in what else None
    place = folder_of(bench.file) if folder is None else Path(folder).expanduser()
    return written(
        [WRITINGS[key] for key in what or PAPERS],
        Subject(answers=answers, us=bench.us, change=change, shows=shows, outlet=outlet),
        plan,
        place.absolute(),
        ENDINGS[form],
    )
