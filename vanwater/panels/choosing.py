"""What a bench can do to compare and to choose: keep variants, go on from one, ask for costly comparisons."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, cast

from vanwater.panels.field import Value
from vanwater.panels.history import State
from vanwater.panels.keeping import Keeping

if TYPE_CHECKING:
    from vanwater.panels.bench import Bench, Follower
    from vanwater.panels.study import Study
    from vanwater.panels.variants import Variants

__all__ = ["Choosing"]


class Choosing(Keeping):
    """A hand that keeps variants and compares, as part of a bench."""

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

    # --- cells -------------------------------------------------------------------------------------

    def variants(self) -> Variants:
        """The saved plan and what was kept beside it, side by side."""
        from vanwater.panels.variants import Variants

        return Variants(self._bench)

    def ready(self, key: str = "filter") -> Study:
        """A ready comparison: "filter", "accumulator", "tank", "heat" or "hose", beside the plan as it stands."""
        from vanwater.panels.studies import ready_study

        return ready_study(self._bench, key)

    def first(self, key: str = "") -> Study:
        """What moves a number most, the days of the stay without its key: what to measure or to change first."""
        from vanwater.panels.studies import first_study

        return first_study(self._bench, key)

    def smallest(self, address: str = "", wish: str = "") -> Study:
        """The smallest size of a part that is sold and meets a wish, typed or the plan's own."""
        from vanwater.panels.studies import smallest_study

        return smallest_study(self._bench, address, wish)

    # --- what the bench does -------------------------------------------------------------------------

    def _go(self, state: State, moved: str, by: Follower | None) -> None:  # noqa: ARG002 - by the bench
        """Let another state stand, and let everything follow."""
        raise TypeError(f"{type(self).__name__} moves nothing")

    def _tell(self, by: Follower | None) -> None:  # noqa: ARG002 - by the bench
        """Let everything follow."""
        raise TypeError(f"{type(self).__name__} is followed by nobody")

    @property
    def _bench(self) -> Bench:
        return cast("Bench", self)
