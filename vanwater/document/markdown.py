"""The papers in Markdown: read off the finished page, so that they say what it says, cell by cell.

Tables are Markdown's, drawings are left out with a word, links within the page become their text. No text of a plan can
act as markup: signs that could are escaped, and nothing is ever written as HTML.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from html.parser import HTMLParser

from vanwater.answers.core.escaping import plain
from vanwater.document.output_file import MARKDOWN

__all__ = ["markdown"]

_VOID = frozenset({"meta", "wbr", "br", "hr", "col"})
_UNSAID = frozenset({"head", "style", "title"})
"""Elements without a word."""
_BLOCKS = frozenset({"p", "h1", "h2", "h3", "h4", "ul", "ol", "dl", "table", "figure", "svg"})
_SVG = "The drawing stands on the page; `vanwater draw` writes it alone."
_BEGINS = re.compile(r"^(#{1,6}|[-+]+|=+|\d{1,9}(?=[.)]))")


@dataclass
class _Node:
    """An element with what stands in it."""

    tag: str
    given: dict[str, str] = field(default_factory=dict)
    inside: list[_Node | str] = field(default_factory=list)

    def below(self, *tags: str) -> Iterator[_Node]:
        """The nearest elements with one of these tags."""
        for each in self.inside:
            if isinstance(each, _Node):
                if each.tag in tags:
                    yield each
                else:
                    yield from each.below(*tags)

    def has(self, name: str) -> bool:
        """Whether it is of a class."""
        return name in self.given.get("class", "").split()


class _Tree(HTMLParser):
    """The page as nodes; it is well formed, since the page's own tests hold it so."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.root = _Node("")
        self._open = [self.root]

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        node = _Node(tag, {name: value or "" for name, value in attrs})
        self._open[-1].inside.append(node)
        if tag not in _VOID:
            self._open.append(node)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)
        if tag not in _VOID:
            self._open.pop()

    def handle_endtag(self, tag: str) -> None:
        if self._open[-1].tag == tag:
            self._open.pop()

    def handle_data(self, data: str) -> None:
        self._open[-1].inside.append(data)


def markdown(page: str) -> str:
    """A paper in Markdown.

    Parameters
    ----------
    page : str
        The same paper as a page.

    Returns
    -------
    str
        CommonMark with tables; the same for the same page.
    """
    tree = _Tree()
    tree.feed(page)
    tree.close()
    (body,) = (each for html in tree.root.below("html") for each in html.below("body"))
    return "\n\n".join([MARKDOWN.written_by.decode(), *_blocks(body)]) + "\n"


def _blocks(node: _Node) -> Iterator[str]:
    """What stands in an element, block by block."""
    loose: list[_Node | str] = []
    for each in (*node.inside, _Node("p")):
        if isinstance(each, str) or not _is_block(each):
            loose.append(each)
            continue
        if text := _line(loose):
            yield _held(text)
        loose = []
        yield from _block(each)


def _is_block(node: _Node) -> bool:
    return node.tag in _BLOCKS or any(True for _ in node.below(*_BLOCKS))


def _block(node: _Node) -> Iterator[str]:
    if node.tag in _UNSAID:
        return
    if node.tag in ("h1", "h2", "h3", "h4"):
        yield f"{'#' * int(node.tag[1])} {_line(node.inside)}"
    elif node.tag == "p":
        if text := _line(node.inside):
            yield _held(text)
    elif node.tag in ("ul", "ol"):
        yield "\n".join(_item(each) for each in node.below("li"))
    elif node.tag == "dl":
        yield "\n".join(
            f"- **{_line(term.inside)}**: {_line(told.inside)}"
            for term, told in zip(node.below("dt"), node.below("dd"), strict=True)
        )
    elif node.tag == "table":
        yield from _table(node)
    elif node.tag == "svg":
        yield f"*{_SVG}*"
    else:
        yield from _blocks(node)


def _item(node: _Node) -> str:
    """One line of a list; its paragraphs follow each other in it."""
    return f"- {_held(' '.join(' '.join(_blocks(node)).split()))}"


def _table(node: _Node) -> Iterator[str]:
    for caption in node.below("caption"):
        yield f"**{_line(caption.inside)}**"
    held = [list(_cells(row)) for row in node.below("tr")]
    heads, *rows = [[text for text, _ in row] for row in held]
    wide = max(map(len, (heads, *rows)))
    right = {place for row in held for place, (_, number) in enumerate(row) if number}
    marks = ["---:" if place in right else "---" for place in range(wide)]
    if not any(True for _ in node.below("thead")):  # a head without words, since a table must have one
        heads, rows = [""] * wide, [heads, *rows]
    yield "\n".join(f"| {' | '.join((*row, *[''] * (wide - len(row))))} |" for row in (heads, marks, *rows))


def _cells(row: _Node) -> Iterator[tuple[str, bool]]:
    """The texts of a row, and whether they are numbers; a cell that is wider than one is followed by empty ones."""
    for cell in row.below("th", "td"):
        yield _line(cell.inside), cell.has("number")
        yield from [("", False)] * (int(cell.given.get("colspan", "1")) - 1)


def _held(text: str) -> str:
    """A line that begins no heading, list or rule."""
    return _BEGINS.sub(lambda begins: f"{begins[0]}\\" if begins[0].isdigit() else f"\\{begins[0]}", text)


def _line(parts: Iterable[_Node | str]) -> str:
    return " ".join("".join(_inline(parts)).split())


def _inline(parts: Iterable[_Node | str]) -> Iterator[str]:
    for each in parts:
        if isinstance(each, str):
            lead, trail = each[:1].isspace(), each[-1:].isspace()
            yield f"{' ' * lead}{plain(each, 'markdown page')}{' ' * trail}"
        elif each.tag in _UNSAID or each.has("skip"):
            continue
        elif each.tag == "b" and (text := _line(each.inside)):
            yield f"**{text}**"
        elif each.tag == "sub":
            yield f"\\_{_line(each.inside)}"
        else:
            inner = "".join(_inline(each.inside))
            yield f" {inner} " if each.tag in ("p", "div", "dt", "dd", "li", "br") else inner
