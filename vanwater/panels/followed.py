"""A hand that others follow: what it does, whom it tells, and when; all that shows a bench stands on it."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Protocol

from vanwater.panels.field import Value
from vanwater.panels.history import State
from vanwater.panels.keeping import Keeping
from vanwater.panels.pace import Pace
from vanwater.panels.write_back import new_file
from vanwater.plan.file import PlanFile, read
from vanwater.plan.model import Plan
from vanwater.plan.problems import PlanError, Problem

__all__ = ["Followed", "Follower"]


class Follower(Protocol):
    """What shows something of the bench."""

    def moved(self) -> None:
        """Show at once what costs nothing: where the controls stand."""

    def refresh(self) -> None:
        """Show what the plan says now; tells a failure itself."""

    def loaded(self) -> None:
        """Begin anew with another saved plan."""

    def gone(self, place: tuple[str, str]) -> None:
        """Leave the bench if it was shown by an earlier run of this cell."""


class Followed(Keeping):
    """One plan under a hand, and what follows it.

    Parameters
    ----------
    plan : Plan or PlanFile
        The saved plan; with a file, changes can be written back.
    us : bool, optional
        US units instead of metric ones; the plan's own choice without it.
    """

    def __init__(self, plan: Plan | PlanFile, *, us: bool | None = None) -> None:
        super().__init__(plan, us)
        self.pace = Pace()
        self.followers: list[Follower] = []
        self._page = ""  # the page in a browser that shows it

    # --- what a hand does ----------------------------------------------------------------------------

    def set(self, address: str, value: Value, by: Follower | None = None) -> None:
        """Set a value as a hand would.

        Parameters
        ----------
        address : str
            The field.
        value : float, int, bool, str or None
            SI for quantities, or a text with its unit; the field's own words else.
        by : Follower, optional
            Where the hand is: what follows at once.

        Raises
        ------
        PlanError
            When a text with a unit cannot be read; what is impossible in a plan stands and is told by all that follows.
        """
        self._go(self.with_value(address, value), address, by)

    def back(self, address: str, by: Follower | None = None) -> None:
        """Let one control stand on the plan's value again."""
        self._go(self.without(address), "", by)

    def home(self, by: Follower | None = None) -> None:
        """Let every control stand on the plan's value again."""
        self._go(State(self.state.situation), "", by)

    def choose(self, situation: str, by: Follower | None = None) -> None:
        """Look at the plan in another of its situations; what a hand has set stays set.

        Parameters
        ----------
        situation : str
            Its name; empty for the plan as it is written.
        by : Follower, optional
            Where the hand is.

        Raises
        ------
        KeyError
            When the plan has no such situation.
        """
        self._go(self.in_situation(situation), "", by)

    def undo(self, by: Follower | None = None) -> None:
        """Take the last step back."""
        self.history.undo()
        self._tell(by)

    def redo(self, by: Follower | None = None) -> None:
        """Take the step again that was taken back last."""
        self.history.redo()
        self._tell(by)

    # --- the file ------------------------------------------------------------------------------------

    def save(self) -> PlanFile:
        """Write what a hand has set into the plan's file, and take that as the plan.

        Returns
        -------
        PlanFile
            As it lies there now.

        Raises
        ------
        PlanError
            When the file was changed meanwhile or cannot be written, or what is set is impossible.
        """
        after = self.revised()
        try:
            after.save(before=self.file)
        except OSError as error:
            said = f"It cannot be written: {error.strerror}. The file is as it was."
            room = Problem("", said, "room on its disk, and leave to write there")
            raise PlanError([room.at(after.path.name, None)]) from None
        self._carry_on()
        self._start(after)
        return after

    def save_as(self, path: Path | str) -> PlanFile:
        """Write the plan as it stands into a new file, and take that as the plan.

        Parameters
        ----------
        path : Path or str
            Where there is no file yet.

        Returns
        -------
        PlanFile
            As it lies there now.

        Raises
        ------
        PlanError
            When something lies there, or what is set is impossible.
        """
        after = new_file(self.revised(), Path(path))
        self._carry_on()
        self._start(after)
        return after

    def load(self, path: Path | str) -> PlanFile:
        """Take another plan on the bench.

        Parameters
        ----------
        path : Path or str
            Its file.

        Returns
        -------
        PlanFile
            The plan.

        Raises
        ------
        PlanError
            With every problem of the file; the plan on the bench stays.
        """
        file = read(path)
        if self.file is None or self.file.path.resolve() != file.path.resolve():
            self._forget()
        self._start(file)
        return file

    def _start(self, file: PlanFile) -> None:
        self._take(file)
        for follower in tuple(self.followers):
            follower.loaded()
        self._tell(None)

    # --- variants ------------------------------------------------------------------------------------

    def keep(self, name: str = "", values: Mapping[str, Value] | None = None) -> str:
        """Keep what a hand has set as a variant beside the plan.

        Parameters
        ----------
        name : str
            What it is called beside its letter.
        values : mapping of str to object, optional
            Other values to be kept in the place of those, as :meth:`set` takes them; nothing moves.

        Returns
        -------
        str
            Its letter: B, C or D; that which it has where it is kept already, A where nothing is set.

        Raises
        ------
        PlanError
            When such a plan is impossible, a text cannot be read, or all letters are taken.
        """
        letter = self._keep(name, values)
        self._tell(None)
        return letter

    def go_on(self, letter: str, by: Follower | None = None) -> None:
        """Take a variant up again: its values stand in the place of what a hand has set, as one step."""
        self._go(self._taken_up(letter), "", by)

    def drop(self, letter: str) -> None:
        """Let a variant go."""
        self._drop(letter)
        self._tell(None)

    def rename(self, letter: str, name: str) -> None:
        """Call a variant otherwise."""
        self._rename(letter, name)
        self._tell(None)

    # --- who follows ----------------------------------------------------------------------------------

    def follow(self, follower: Follower) -> None:
        """Let something follow the bench from now on."""
        self.followers.append(follower)

    def leave(self, follower: Follower) -> None:
        """Let it follow no longer."""
        self.followers = [other for other in self.followers if other is not follower]

    @property
    def page_shown(self) -> str:
        """The page in a browser that shows the bench, as it calls itself; empty before one has told."""
        return self._page

    @property
    def loaded_anew(self) -> bool:
        """Whether cells stand in a page that was loaded anew since they were shown, so that they follow no longer."""
        return any(getattr(follower, "page", None) not in (None, "", self._page) for follower in self.followers)

    def seen(self, page: str) -> None:
        """A page in a browser tells that it shows the bench.

        Parameters
        ----------
        page : str
            What it calls itself: another name after each loading.
        """
        if page == self._page:
            return
        first, self._page = not self._page, page
        for follower in self.followers:
            if first and getattr(follower, "page", None) == "":
                follower.page = page  # type: ignore[attr-defined]
            follower.moved()

    # --- within --------------------------------------------------------------------------------------

    def _go(self, state: State, moved: str, by: Follower | None) -> None:
        self.history.push(state, moved)
        self._tell(by)

    def _tell(self, by: Follower | None) -> None:
        """Let everything follow: the picture where the hand is first, then the controls, all else when it rests."""
        if by is not None:
            by.refresh()
        for follower in tuple(self.followers):
            follower.moved()
        self.pace.when_at_rest([follower.refresh for follower in self.followers if follower is not by])
