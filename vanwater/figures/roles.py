"""What a line stands for, and the colour, dash and marker that it has everywhere.

The colours are those of Okabe and Ito, made to be told apart by every kind of eye; dash, marker and pattern
tell the roles apart again in black and white.

References
----------
M. Okabe, K. Ito (2008), Color Universal Design: the set of eight colours. The grey and the ink are our own.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal, TypeAlias

from vanwater.answers.core.chart import Role

__all__ = [
    "DARK",
    "DARK_FOR",
    "FAINT",
    "GRID",
    "GROUNDS",
    "INK",
    "PAPER",
    "ROLES",
    "Style",
    "contrast",
    "readable",
    "tone",
]

INK = "#222222"
FAINT = "#5c5c5c"
GRID = "#e4e4e4"
PAPER = "#ffffff"

Ground: TypeAlias = Literal["ink", "faint", "grid", "paper"]

GROUNDS: Mapping[Ground, str] = {"ink": INK, "faint": FAINT, "grid": GRID, "paper": PAPER}
"""What belongs to no role: words, thin lines, the sheet."""

_GROUND = "#1c1c1c"  # of a dark page

_ENOUGH = 4.5  # contrast of small text, WCAG 2.2, success criterion 1.4.3


@dataclass(frozen=True, slots=True, kw_only=True)
class Style:
    """How a role looks.

    Parameters
    ----------
    colour : str
        Colour of line and area.
    text : str
        The same colour, dark enough for a label.
    dash : tuple of float
        Lengths of stroke and gap in points; empty for a solid line.
    symbol : str
        Marker at the end of the line, as plotly names it.
    pattern : str
        Hatching of bars that stand in one row, as plotly names it.
    width : float
        Width of the line in points.
    """

    colour: str
    text: str
    dash: tuple[float, ...]
    symbol: str
    pattern: str
    width: float = 1.9


def contrast(colour: str, ground: str = PAPER) -> float:
    """Contrast of two colours, 1 to 21.

    Formula: (L₁ + 0.05)/(L₂ + 0.05)

    Parameters
    ----------
    colour, ground : str
        Colours as "#rrggbb".

    Returns
    -------
    float
        Contrast of the lighter to the darker.

    References
    ----------
    W3C (2023), Web Content Accessibility Guidelines 2.2, definitions of contrast ratio and relative luminance.
    """
    lighter, darker = sorted((_luminance(colour), _luminance(ground)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def readable(colour: str) -> str:
    """A colour made dark enough to be read as small text on white."""
    parts = _parts(colour)
    for step in range(100):
        darker = "#" + "".join(f"{round(part * 255 * (1 - step / 100)):02x}" for part in parts)
        if contrast(darker) >= _ENOUGH:
            return darker
    return INK


def tone(name: Role | Ground) -> str:
    """A colour as a style sheet takes it: a dark page replaces it by its own."""
    light = ROLES[name].colour if name in ROLES else GROUNDS[name]  # type: ignore[index]
    return f"var(--vw-{name},{light})"


def _parts(colour: str) -> list[float]:
    return [int(colour[start : start + 2], 16) / 255 for start in (1, 3, 5)]


def _luminance(colour: str) -> float:
    linear = [part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in _parts(colour)]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def _style(colour: str, dash: tuple[float, ...], symbol: str, pattern: str = "", width: float = 1.9) -> Style:
    return Style(colour=colour, text=readable(colour), dash=dash, symbol=symbol, pattern=pattern, width=width)


ROLES: Mapping[Role, Style] = {
    "fresh": _style("#56b4e9", (), "circle"),
    "grey": _style("#7f7f7f", (7, 2.5), "square", "/"),
    "cold": _style("#0072b2", (9, 2, 2, 2), "triangle-down", "\\"),
    "hot": _style("#d55e00", (4, 2), "triangle-up", "x"),
    "heat": _style("#e69f00", (2, 2), "diamond", "-"),
    "battery": _style("#009e73", (9, 2, 2, 2, 2, 2), "cross", "|"),
    "urine": _style("#cc79a7", (5, 2, 1, 2), "x", "+"),
    "limit": _style("#000000", (4, 3), "line-ew", "", 0.9),
    "plain": _style(INK, (12, 2), "hexagon"),
    "saved": _style("#b0b0b0", (1.5, 1.5), "circle-open", ".", 1.3),
}
"""Every role; ``plain`` is the one curve that belongs to no store, ``saved`` the plan as it stands in its file."""


def _dark() -> Iterator[tuple[str, str]]:
    yield from (("ink", "#e4e4e4"), ("faint", "#a8a8a8"), ("grid", "#3a3a3a"), ("paper", _GROUND), ("saved", "#808080"))
    for role, style in ROLES.items():
        if role != "saved":  # stays faint
            yield role, _lighter(style.colour, 3.0)
        yield f"{role}-text", _lighter(style.colour, _ENOUGH)


def _lighter(colour: str, enough: float) -> str:
    """A colour made light enough to be seen on a dark ground."""
    parts = [int(colour[start : start + 2], 16) for start in (1, 3, 5)]
    for step in range(101):
        lighter = "#" + "".join(f"{round(part + (255 - part) * step / 100):02x}" for part in parts)
        if contrast(lighter, _GROUND) >= enough:
            break
    return lighter


DARK: Mapping[str, str] = dict(_dark())
"""The colours of a dark page by their names: ink, faint, grid, paper, each role, each role's text."""

DARK_FOR: Mapping[str, str] = {
    **{style.colour: DARK[role] for role, style in ROLES.items()},
    **{style.text: DARK[f"{role}-text"] for role, style in ROLES.items()},
    **{colour: DARK[name] for name, colour in GROUNDS.items()},
}
"""The same by the colours that they take the place of."""
