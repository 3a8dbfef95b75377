"""A drawing that is dark where its page is: by the colour scheme of the page, which JupyterLab's themes set too."""

from __future__ import annotations

import re

from vanwater.figures.roles import DARK

__all__ = ["colours", "shown", "themed"]

_USED = re.compile(r"var\(--vw-([\w-]+),(#[0-9a-fA-F]+)\)")
_KNOWN = "@supports (color:light-dark(#000,#fff))"
"""What an older browser does not know it passes over: there the drawing stays light."""


def themed(svg: str) -> str:
    """A drawing as a file of its own, which is dark where its reader wants that, and light on paper.

    Parameters
    ----------
    svg : str
        One ``<svg>`` element of our pens.

    Returns
    -------
    str
        The same with a style sheet inside.
    """
    opening, bracket, inside = svg.partition(">")
    scheme = "svg{color-scheme:light dark}@media print{svg{color-scheme:light}}"
    return f"{opening}{bracket}<style>{scheme}{colours('svg', svg)}</style>{inside}"


def shown(svg: str, words: str) -> str:
    """A drawing as a piece of a page, as wide as there is room and dark where the page is.

    Parameters
    ----------
    svg : str
        One ``<svg>`` element of our pens.
    words : str
        What it shows, as HTML: seen in the place of the drawing on a page that takes style sheets and drawings out.

    Returns
    -------
    str
        HTML.
    """
    rule = colours(".vw-shown", svg)
    style = f"<style>.vw-shown{{display:block!important}}.vw-words{{display:none}}{rule}</style>"
    return f'{style}<div class="vw-shown" hidden>{svg}</div><p class="vw-words">{words}</p>'


def colours(selector: str, svg: str) -> str:
    """A style sheet's rule for the colours that a drawing uses, each with its dark one where that is another.

    Parameters
    ----------
    selector : str
        What it counts for.
    svg : str
        One ``<svg>`` element of our pens.

    Returns
    -------
    str
        Left out by browsers that know no ``light-dark()``.
    """
    used = dict(sorted(set(_USED.findall(svg))))
    dark = {name: (light, DARK[name]) for name, light in used.items() if DARK[name] != light}
    tones = "".join(f"--vw-{name}:light-dark({','.join(pair)});" for name, pair in dark.items())
    return f"{_KNOWN}{{{selector}{{{tones}}}}}"
