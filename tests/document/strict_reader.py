"""A strict reader of pages: what a browser would forgive is an error here, what HTML lets be left out is none."""

from __future__ import annotations

from dataclasses import dataclass, field
from html.parser import HTMLParser

_CELL, _ROW = {"p", "td", "th"}, {"p", "td", "th", "tr"}
_BODY, _TERM = {*_ROW, "thead", "tbody"}, {"p", "dt", "dd"}
ENDED_BY = {"td": _CELL, "th": _CELL, "tr": _ROW, "tbody": _BODY, "li": {"p", "li"}, "dt": _TERM, "dd": _TERM}
ENDED_BY |= {tag: {"p"} for tag in ("p", "div", "ul", "ol", "dl", "table", "figure", "section", "h2", "h3", "h4")}
"""Which elements end by themselves where another begins, as HTML has it (13.1.2.4, optional tags)."""
ENDED_WITH = {"table": _BODY, "ul": {"p", "li"}, "ol": {"p", "li"}, "dl": _TERM, "div": _TERM}
ENDED_WITH |= {tag: {"p"} for tag in ("section", "header", "nav", "main")}
"""Which end by themselves with what they stand in."""
VOID = frozenset({"meta", "wbr", "br", "hr", "img", "input", "link", "col"})


@dataclass
class Element:
    """An element with its text; drawings are elements like others."""

    tag: str
    attributes: dict[str, str]
    inside: tuple[str, ...]
    parts: list[Element | str] = field(default_factory=list)

    def all(self, tag: str = "", **wanted: str) -> list[Element]:
        """Elements below with a tag and with words among an attribute's."""
        found = []
        for part in self.parts:
            if isinstance(part, Element):
                words = {name: part.attributes.get(name.rstrip("_"), "").split() for name in wanted}
                if (not tag or part.tag == tag) and all(want in words[name] for name, want in wanted.items()):
                    found.append(part)
                found += part.all(tag, **wanted)
        return found

    @property
    def text(self) -> str:
        """Its words in one line, without styles and drawings."""
        return " ".join(_words(self).replace("\xa0", " ").replace("\u202f", " ").split())


def _words(element: Element) -> str:
    if element.tag in ("style", "svg"):
        return ""
    apart = (
        " "
        if element.tag in ("p", "li", "td", "th", "dt", "dd", "div", "br", "h1", "h2", "h3", "h4", "summary")
        else ""
    )
    return apart + "".join(part if isinstance(part, str) else _words(part) for part in element.parts) + apart


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.root = Element("", {}, ())
        self.open = [self.root]
        self.declarations: list[str] = []
        self.wrong: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._ended(ENDED_BY.get(tag, set()))
        names = [name for name, _ in attrs]
        if len(set(names)) != len(names):
            self.wrong.append(f"<{tag}> says an attribute twice")
        element = Element(tag, {name: value or "" for name, value in attrs}, tuple(one.tag for one in self.open[1:]))
        self.open[-1].parts.append(element)
        if tag not in VOID:
            self.open.append(element)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)
        if tag not in VOID:
            self.open.pop()
            if "svg" not in (*self.open[-1].inside, self.open[-1].tag):
                self.wrong.append(f"<{tag}/> outside of a drawing")

    def _ended(self, tags: set[str]) -> None:
        while self.open[-1].tag in tags:
            self.open.pop()

    def handle_endtag(self, tag: str) -> None:
        self._ended(ENDED_WITH.get(tag, set()))
        if self.open[-1].tag == tag:
            self.open.pop()
        else:
            self.wrong.append(f"</{tag}> closes <{self.open[-1].tag}> at {self.getpos()}")

    def handle_data(self, data: str) -> None:
        self.open[-1].parts.append(data)

    def handle_decl(self, decl: str) -> None:
        self.declarations.append(decl)

    def unknown_decl(self, data: str) -> None:
        self.wrong.append(f"<![{data}]>")

    def handle_pi(self, data: str) -> None:
        self.wrong.append(f"<?{data}>")


def page(text: str) -> Element:
    """The whole page; every tag must be closed where it was opened."""
    reader = _Reader()
    reader.feed(text)
    reader.close()
    wrong = reader.wrong + [f"<{one.tag}> is never closed" for one in reader.open[1:]]
    if wrong or reader.declarations != ["DOCTYPE html"]:
        raise AssertionError("\n".join([*wrong, *reader.declarations]))
    return reader.root
