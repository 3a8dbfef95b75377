"""What a page shows only where it trusts its notebook, and what it says elsewhere.

A page that does not trust a notebook takes style sheets, drawings and links that hold their file out of its cells, but
keeps what is hidden hidden, if the attribute has a value. So what would come through maimed is hidden, and a style
sheet shows it.
"""

from __future__ import annotations

import html

__all__ = ["trusted"]

_SHOWN = ".vw-trusted[hidden]{display:block!important}.vw-untrusted{display:none}"


def trusted(inside: str, what: str = "", style: str = "") -> str:
    """HTML that stands whole or not at all.

    Parameters
    ----------
    inside : str
        What is shown in a notebook that is trusted.
    what : str
        What it is, for the sentence that stands in its place elsewhere; nothing does without it.
    style : str
        More rules of the style sheet.

    Returns
    -------
    str
        HTML.
    """
    said = f"<i>{html.escape(what)} when this notebook is trusted or has run.</i>"
    elsewhere = f'<p class="vw-untrusted">{said}</p>' if what else ""
    return f'<style>{_SHOWN}{style}</style><div class="vw-trusted" hidden="hidden">{inside}</div>{elsewhere}'
