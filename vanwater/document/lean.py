"""What a page may leave out without saying less.

HTML asks for no end tag that follows from what comes next and for no quotes around a number; a style sheet needs no
rule of which nothing on the page is, and what is said often no long name; a drawing needs no digits that nobody sees,
and a look that many of its lines have is said once, in the style sheet.
"""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from string import ascii_lowercase

__all__ = ["lean_page", "lean_style"]

_BEFORE_P_ENDS = "p|div|ul|ol|dl|table|figure|section|h[1-6]|/div|/section|/li|/dd|/td|/header|/nav|/main"
_PARAGRAPH = re.compile(rf"</p>\s*(?=<(?:{_BEFORE_P_ENDS})\b)")
_SCOPE = re.compile(r"(<th[^<>]*?) scope=\"(?:col|row)\"")
"""Of a head in a first row or a first column of heads alone, which HTML takes for one of its column or row."""

_ENDS = re.compile(r"\s*</(?:td|th|tr|li|dt|dd|thead|tbody)>\s*")
"""End tags that follow from what comes next, with the blanks around them."""

_BETWEEN = re.compile(r"(?<=>)\s*\n\s*(?=<)|\n\s+")
_BLOCK = "table|caption|thead|tbody|tr|t[dh]|h[1-6]|div|section|nav|ul|ol|li|dl|d[dt]|figure|p"
_BEFORE_BLOCK, _BEHIND_BLOCK = re.compile(rf"\s+(?=</?(?:{_BLOCK})\b)"), re.compile(rf"(</?(?:{_BLOCK})\b[^<>]*>)\s+")
"""Blanks beside a block, which nobody sees."""

_TAG = re.compile(r"<[a-z][^<>]*>")
_QUOTED = re.compile(r' ([a-z-]+)="([\w#.-]+)"(?=[\s>])')
"""Of links and places that a page has by the hundred."""
_DRAWING = re.compile(r"<svg.*?</svg>", re.DOTALL)
_STYLE = re.compile(r"(?<=<style>).*?(?=</style>)", re.DOTALL)
_BEGUN = re.compile(r"<([a-z][a-z0-9]*)")
_CLASS = re.compile(r" class=\"([^\"]*)\"")
_CLASSES = re.compile(r"\bclass=(?:\"([^\"]*)\"|([\w-]+))")

_DOTTED = re.compile(r"\.([a-z][\w-]*)")
_OFTEN = 30
"""How often a class is said that is worth no word for its name."""

_SELECTED = re.compile(r"[^{}]*\{")

_OWN_STYLE = re.compile(r"<style>.*?</style>", re.DOTALL)
_TOLD = re.compile(r"<(desc|title)>.*?</\1>")
_HINT = re.compile(r"(<g\b[^<>]*>)<title>.*?</title>")
_GROUP = re.compile(r"<g\b[^<>]*>|</g>")
_SHAPE = re.compile(r"<([a-z]\w*)((?: [\w:-]+=\"[^\"]*\")+) ?(/?)>")
_ATTRIBUTE = re.compile(r" ([\w:-]+)=\"([^\"]*)\"")
_LOOK = frozenset(
    {"fill", "fill-opacity", "stroke", "stroke-width", "stroke-dasharray", "stroke-linecap", "stroke-linejoin"}
    | {"text-anchor", "font-size", "font-weight"}
)
_PLACE = frozenset({"d", "x", "y", "x1", "x2", "y1", "y2", "cx", "cy", "r", "width", "height", "points", "transform"})
_COLOUR = re.compile(r"var\(--[\w-]+,\s*(#[0-9a-fA-F]{3,8})\)")
_TWICE = re.compile(r"#([0-9a-f])\1([0-9a-f])\2([0-9a-f])\3\b")
_HUNDREDTHS = re.compile(r"-?\d*\.\d{2,}")
_SEEN = 1.0
"""Tenths of a point that a curve may pass beside its places."""

_WORD = re.compile(r"[\w#.:%-]+")
_EMPTY = re.compile(r"(<path[^<>]*)></path>")
_CURVE = re.compile(r'(?<= d=")(?:[ML]-?[\d.]+,-?[\d.]+)+z?(?=")')
_LINES = re.compile(r'(<path class=\w+ d=")([^"]*)"/>((?:\1[^"]*"/>)+)')


def lean_page(html: str) -> str:
    """A page as HTML reads it anyway, in fewer bytes.

    Parameters
    ----------
    html : str
        A page; its texts are escaped, so that no tag stands in them, and its attributes are in double quotes.

    Returns
    -------
    str
        The same elements and words.
    """
    head, _, body = html.partition("<body>")
    looks: dict[str, str] = {}
    named = frozenset(_classes_in(head))
    drawings = [_drawing(drawn[0], looks) for drawn in _DRAWING.finditer(body)]
    texts = [_texts(_TAG.sub(lambda tag: _named(tag[0], named), text)) for text in _DRAWING.split(body)]
    short = _short_names(texts, drawings, named)
    texts = [_CLASSES.sub(lambda said: _in_short(said, short), text) for text in texts]
    parts = [part for pair in zip(texts, [*drawings, ""], strict=True) for part in pair]
    body = "".join(parts)
    known = {f".{name}" for name in _said(body)}
    known |= {"html", "body", *(tag[1] for tag in _BEGUN.finditer(body))}
    shared = "".join(f".{name}{{{look}}}" for look, name in looks.items())
    head = _STYLE.sub(lambda style: f"{_needed(_renamed(lean_style(style[0]), short), known)}\n{shared}\n", head)
    return f"{head}<body>{body}"


def lean_style(css: str) -> str:
    """A style sheet without its comments and the blanks that only its readers need.

    Parameters
    ----------
    css : str
        The sheet; no text within it holds a brace, a semicolon, or a comma before a blank.

    Returns
    -------
    str
        The same rules.
    """
    css = re.sub(r"/\*.*?\*/", "", css, flags=re.DOTALL)
    return re.sub(r"(?<=[:,])\s+|\s*([{};>])\s*", r"\1", css).replace(";}", "}").strip()


def _texts(html: str) -> str:
    html = _SCOPE.sub(r"\1", html)
    html = _BETWEEN.sub("\n", _ENDS.sub("", _PARAGRAPH.sub("", html)))
    html = _BEHIND_BLOCK.sub(r"\1", _BEFORE_BLOCK.sub("", html))
    html = _TAG.sub(lambda tag: _QUOTED.sub(r" \1=\2", tag[0]), html)
    return html.replace("&#x27;", "'").replace("&#39;", "'")


def _named(tag: str, named: frozenset[str]) -> str:
    """A tag without the classes of which no rule speaks; what only tests and readers of the source look for."""

    def said(found: re.Match[str]) -> str:
        kept = " ".join(name for name in found[1].split() if name in named)
        return f' class="{kept}"' if kept else ""

    return _CLASS.sub(said, tag)


def _short_names(texts: Sequence[str], drawings: Sequence[str], named: frozenset[str]) -> dict[str, str]:
    """The letters that classes which are said often are called by; not those that drawings have too."""
    count = Counter(name for text in texts for name in _said(text))
    kept = {name for drawing in drawings for name in (*_said(drawing), *_classes_in(drawing))}
    letters = [letter for letter in ascii_lowercase if letter not in named and letter not in kept]
    often = [name for name, times in count.most_common() if times > _OFTEN and len(name) > 2 and name not in kept]
    return dict(zip(often, letters, strict=False))


def _said(html: str) -> Iterator[str]:
    """Every class that something has, as often as it is said."""
    for said in _CLASSES.finditer(html):
        yield from (said[1] or said[2]).split()


def _in_short(said: re.Match[str], short: Mapping[str, str]) -> str:
    names = [short.get(name, name) for name in (said[1] or said[2]).split()]
    return f"class={names[0]}" if len(names) == 1 else f'class="{" ".join(names)}"'


def _renamed(css: str, short: Mapping[str, str]) -> str:
    """A lean style sheet whose selectors call the classes so."""
    return _SELECTED.sub(lambda rule: _DOTTED.sub(lambda each: f".{short.get(each[1], each[1])}", rule[0]), css)


def _needed(css: str, known: set[str]) -> str:
    """The rules that something on the page may have."""
    kept = []
    for rule in re.finditer(r"([^{}]*)\{([^{}]*)\}|([^{}]*)\{|\}", css):
        if rule[2] is None:  # begin or end of a block of rules
            kept.append(rule[0])
            continue
        selectors = [each for each in _selectors(rule[1]) if _named_in(each) <= known]
        if selectors:
            kept.append(f"{','.join(selectors)}{{{rule[2]}}}")
    return "\n".join(kept)


def _selectors(text: str) -> Iterator[str]:
    """The selectors of a rule; a comma within brackets parts none."""
    yield from re.split(r",(?![^()]*\))", text)


def _named_in(selector: str) -> set[str]:
    """The elements, and the classes with their dots, that a selector asks for; none of a margin of the paper."""
    if "@" in selector:
        return set()
    plainly = re.sub(r"\[[^\]]*\]|::?[a-z-]+(?:\([^()]*\))?", "", selector)
    return set(re.findall(r"\.[a-z][\w-]*|(?<![\w.-])[a-z][\w-]*", plainly))


def _classes_in(css: str) -> set[str]:
    return set(_DOTTED.findall(css))


def _drawing(svg: str, looks: dict[str, str]) -> str:
    """A drawing in the colours of a white page and the letters of its style sheet, to a tenth of a point."""
    if "data-chart" in svg:
        svg = _TOLD.sub("", svg)  # the same words stand in it and below
    svg = _HINT.sub(r"\1", svg)  # what a pointer is told stands in the drawing's description and in the lists
    svg = _COLOUR.sub(lambda colour: _TWICE.sub(r"#\1\2\3", colour[1].lower()), svg)
    own = frozenset(_classes_in("".join(_OWN_STYLE.findall(svg))))
    svg = _SHAPE.sub(lambda shape: _shape(shape, looks, own), svg)
    svg = svg if own else _ungrouped(svg)
    return _CURVE.sub(_steps, _LINES.sub(_one_line, _EMPTY.sub(r"\1/>", svg)))


def _shape(shape: re.Match[str], looks: dict[str, str], own: frozenset[str]) -> str:
    """A shape with its look as a class of the page, and the classes that the drawing's own style sheet speaks of."""
    tag, attributes, end = shape[1], shape[2], shape[3]
    kept: dict[str, str] = {}
    look: dict[str, str] = {}
    for name, value in _ATTRIBUTE.findall(attributes):
        if name in _LOOK and tag != "svg":
            look[name] = f"{value}px" if name == "font-size" and value[-1:].isdigit() else value
        elif name == "style" and tag != "svg":
            look |= dict(part.split(":", 1) for part in value.split(";") if part)
        elif name == "class":
            said = " ".join(each for each in value.split() if each in own or not each.startswith("vw-"))
            kept |= {"class": said} if said else {}
        elif name not in ("style", "font-family", "xmlns") and not name.startswith("data-"):
            kept[name] = _HUNDREDTHS.sub(_tenths, value) if name in _PLACE else value
    if look:
        css = ";".join(f"{name}:{value}" for name, value in sorted(look.items()))
        said = kept.pop("class", "")
        kept["class"] = f"{said} {looks.setdefault(css, f'v{len(looks)}')}".strip()
    bare = {name for name, value in kept.items() if tag != "svg" and _WORD.fullmatch(value)}
    plain = [f" {name}={kept[name]}" for name in kept if name in bare]
    quoted = [f' {name}="{kept[name]}"' for name in kept if name not in bare]
    return f"<{tag}{''.join((*plain, *quoted))}{' ' if end and not quoted else ''}{end}>"


def _ungrouped(svg: str) -> str:
    """A drawing without the groups that have neither a look nor a place of their own."""
    begun: list[bool] = []

    def kept(tag: re.Match[str]) -> str:
        if tag[0] != "</g>":
            begun.append(tag[0] == "<g>")
        alone = begun[-1] if tag[0] != "</g>" else begun.pop()
        return "" if alone else tag[0]

    return _GROUP.sub(kept, svg)


def _one_line(lines: re.Match[str]) -> str:
    """Lines of one look one after the other, as one line with gaps."""
    rest = re.findall(r' d="([^"]*)"', lines[3])
    return f'{lines[1]}{"".join((lines[2], *rest))}"/>'


def _steps(curve: re.Match[str]) -> str:
    """A way from place to place as steps from each to the next, without places that nobody sees it bend at."""
    ways = []
    for way in curve[0].rstrip("z").split("M")[1:]:
        corners = (place.split(",") for place in way.split("L"))
        kept = _bends([(round(10 * float(x)), round(10 * float(y))) for x, y in corners])
        steps = [(after[0] - before[0], after[1] - before[1]) for before, after in pairwise(kept)]
        ways.append(f"M{_numbers(kept[:1])}{'l' if steps else ''}{_numbers(steps)}")
    return "".join(ways) + "z" * curve[0].endswith("z")


def _bends(places: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """Places, in tenths, without those that lie as good as on the straight way between others."""
    if len(places) < 3:
        return places
    (x0, y0), (x1, y1) = places[0], places[-1]
    long = math.hypot(x1 - x0, y1 - y0)
    off = [
        abs((x1 - x0) * (y - y0) - (y1 - y0) * (x - x0)) / long if long else math.hypot(x - x0, y - y0)
        for x, y in places[1:-1]
    ]
    most = max(off)
    if most <= _SEEN:
        return [places[0], places[-1]]
    corner = off.index(most) + 1
    return [*_bends(places[: corner + 1])[:-1], *_bends(places[corner:])]


def _numbers(steps: list[tuple[int, int]]) -> str:
    told = " ".join(re.sub(r"^(-?)0\.", r"\1.", f"{tenths / 10:g}") for step in steps for tenths in step)
    return told.replace(" -", "-")


def _tenths(number: re.Match[str]) -> str:
    return f"{round(float(number[0]), 1) + 0.0:g}"
