"""Where text goes: how wide, in which units, with colour or none, and what its encoding can show."""

from __future__ import annotations

import io
import os
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import TextIO
from unicodedata import category

from rich.cells import cell_len
from rich.console import Console, RenderableType, detect_legacy_windows
from rich.padding import Padding
from rich.text import Text

from vanwater.answers.core.statement import Amount, Range, Say, harmless
from vanwater.answers.core.table import BLANKS
from vanwater.quantities import NO_BREAK, THOUSANDS
from vanwater.terminal.transliteration import shows, spelled

__all__ = ["WIDTH", "Screen"]

WIDTH = 80
NARROWEST = 40
HELD = "\uffff"
"""Stands for a no-break space while lines are broken; no harmless text holds this noncharacter."""

_HOLD = str.maketrans(dict.fromkeys((NO_BREAK, THOUSANDS, *BLANKS), HELD))
_ESCAPE = harmless("terminal")
_UNSEEN = ("Cc", "Cf", "Cs", "Zl", "Zp")


@dataclass(frozen=True, slots=True)
class Screen:
    """Where text goes; made by :meth:`of`.

    Parameters
    ----------
    console : Console
        Breaks lines and sets columns.
    encoding : str
        What the stream can write.
    us : bool
        US units instead of metric ones.
    """

    console: Console
    encoding: str
    us: bool = False

    @classmethod
    def of(cls, stream: TextIO, us: bool = False) -> Screen:
        """The screen of a stream: plain and 80 columns wide when it is no terminal.

        Parameters
        ----------
        stream : text stream
            Where the text will be written.
        us : bool
            US units instead of metric ones.

        Returns
        -------
        Screen
            Colours only on a terminal, none with NO_COLOR.
        """
        lively = stream.isatty() and os.environ.get("TERM") != "dumb" and not detect_legacy_windows()
        console = Console(
            file=io.TextIOWrapper(io.BytesIO(), encoding=stream.encoding or "utf-8"),  # lines are laid out, not written
            force_terminal=lively,
            force_jupyter=False,
            color_system="auto" if lively else None,
            no_color="NO_COLOR" in os.environ,
            highlight=False,
            markup=False,
            emoji=False,
            legacy_windows=False,
        )
        console.width = min(max(console.width, NARROWEST), WIDTH) if lively else WIDTH
        return cls(console, stream.encoding or "utf-8", us)

    @property
    def plain(self) -> bool:
        """Whether nothing but letters is written: no colour, no style."""
        return self.console.color_system is None

    def words(self, said: str | Say | Amount | Range) -> str:
        """What is said, in this screen's units and letters, its numbers held to their units.

        Parameters
        ----------
        said : str, Say, Amount or Range
            A text is taken as a plan's own and made harmless.

        Returns
        -------
        str
            Ready for :meth:`paragraph` or a cell.
        """
        if isinstance(said, str):
            text = _ESCAPE(said)
        elif isinstance(said, Say):
            text = said.text(self.us, _ESCAPE)
        else:
            text = said.text(self.us)
        return self.held(text)

    def held(self, text: str) -> str:
        """A text in this screen's letters, its no-break spaces held; control codes are dropped once more."""
        if not text.isprintable():
            text = "".join(letter for letter in text if category(letter) not in _UNSEEN or letter in "\n\u200c\u200d")
        parts = text.translate(_HOLD).split(HELD)
        return HELD.join(spelled(part, self.encoding) for part in parts)

    def text(self, said: str | Say | Amount | Range, style: str = "") -> Text:
        """What is said, as a piece for a line or a cell."""
        return Text(self.words(said), style=style)

    def mark(self, mark: str, word: str) -> str:
        """A mark with its word; the word alone where the encoding lacks a mark."""
        return f"{mark} {word}" if shows("✓✕…", self.encoding) else word

    def lines(self, *things: RenderableType, indent: int = 0) -> list[str]:
        """Things set into lines of this screen's width.

        Parameters
        ----------
        *things : renderables
            Pieces of text and tables, one under the other.
        indent : int
            Columns that are left free at the left.

        Returns
        -------
        list of str
            Without line ends.
        """
        width = self.console.width - indent
        if self.plain:
            whole = [thing.plain for thing in things if isinstance(thing, Text) and _fits(thing, width)]
            if things and len(whole) == len(things):
                return [f"{' ' * indent}{line}".replace(HELD, " ").rstrip() for line in whole]
        with self.console.capture() as captured:
            for thing in things:
                self.console.print(Padding(thing, (0, 0, 0, indent)) if indent else thing)
        return [line.replace(HELD, " ").rstrip() for line in captured.get().removesuffix("\n").split("\n")]

    def paragraph(self, said: str | Say | Amount | Range | Text, style: str = "", indent: int = 0) -> list[str]:
        """A sentence, broken at the screen's width."""
        return self.lines(said if isinstance(said, Text) else self.text(said, style), indent=indent)

    def hanging(self, lines: Iterable[str], style: str = "", more: int = 4) -> list[str]:
        """Indented lines as they are, each broken with a hanging indent where it is too long.

        Parameters
        ----------
        lines : iterable of str
            Lines with their own indent.
        style : str
            Style of all of them.
        more : int
            Further columns of indent for what is carried over.

        Returns
        -------
        list of str
            The lines.
        """
        broken: list[str] = []
        for line in lines:
            bare = line.lstrip(" ")
            indent = min(len(line) - len(bare), self.console.width // 2)
            text = Text(self.held(bare), style=style)
            first, *rest = _wrapped(text, self.console, indent, more)
            broken += self.lines(first, indent=indent)
            for piece in rest:
                broken += self.lines(piece, indent=indent + more)
        return broken


def _fits(text: Text, width: int) -> bool:
    """Whether a text is one line as it stands, so that nothing has to be laid out."""
    return not text.justify and "\n" not in text.plain and "\t" not in text.plain and cell_len(text.plain) <= width


def _wrapped(text: Text, console: Console, indent: int, more: int) -> Sequence[Text]:
    """Pieces of a text that fit into its first line and the narrower ones below."""
    width = console.width - indent
    if _fits(text, width):
        return [text]
    pieces = text.wrap(console, width)
    if len(pieces) < 2:
        return list(pieces) or [text]
    rest = Text(text.plain[len(pieces[0].plain) :].lstrip(" "), style=text.style)
    return [pieces[0], *rest.wrap(console, width - more)]
