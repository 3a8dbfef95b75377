"""The fold of a panel that shows the variants beside the saved plan."""

from __future__ import annotations

from vanwater.panels.bench import Bench
from vanwater.panels.collapsible import Collapsible
from vanwater.panels.kept_rows import KeptRows
from vanwater.panels.variants import side_by_side

__all__ = ["VariantsFold"]


class VariantsFold:
    """The variants in a panel; worked out only while somebody looks.

    Parameters
    ----------
    bench : Bench
        What was kept on it.
    """

    def __init__(self, bench: Bench) -> None:
        self.rows = KeptRows(bench)
        self.collapsible = Collapsible("variants", lambda: side_by_side(bench).html, [self.rows.widget], titled=False)

    def moved(self) -> None:
        """Let the rows stand as the bench stands."""
        self.rows.moved()
