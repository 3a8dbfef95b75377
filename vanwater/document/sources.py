"""The sources of a document: each published one once, numbered in the order in which it is first named.

A published source is written as a title is, with a capital or a number first. What begins with a small letter is a
habit of the trade or a method ("common practice", "sum of the uses"); it is said in words where it is used.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from vanwater.quantities import retold

__all__ = ["Named", "Sources"]


@dataclass(frozen=True, slots=True)
class Named:
    """Where a number or a limit comes from.

    Parameters
    ----------
    number : int
        Number in the list of sources; 0 for a habit or a method, which is told in words alone.
    text : str
        The source.
    """

    number: int
    text: str


@dataclass(slots=True)
class Sources:
    """The list of sources while a document is put together, in the reader's units."""

    us: bool = False
    texts: list[str] = field(default_factory=list)
    _numbers: dict[str, int] = field(default_factory=dict)

    def named(self, text: str) -> Named | None:
        """Name a source.

        Parameters
        ----------
        text : str
            A published source, "common practice", or an empty text.

        Returns
        -------
        Named or None
            The same number for the same text; None where no source is said.
        """
        text = retold(" ".join(text.split()), self.us)
        known = text.rstrip(".").casefold()
        if not known:
            return None
        if text[0].islower():
            return Named(0, text)
        if known not in self._numbers:
            self.texts.append(text)
            self._numbers[known] = len(self.texts)
        number = self._numbers[known]
        return Named(number, self.texts[number - 1])
