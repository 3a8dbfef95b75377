"""A chart drawn large by plotly, when the hand rests: to zoom, to read values off, to save.

The script, 5 MB, is sent when the first picture of a page asks for it, and once however many there are. Nothing is
fetched from elsewhere and nothing is sent anywhere. What follows the hand is drawn as SVG, beside it.
"""

from __future__ import annotations

from functools import lru_cache
from importlib import resources
from pathlib import Path
from typing import Any

import anywidget
import traitlets

from vanwater.answers.core.chart import Chart, words
from vanwater.figures.data import csv
from vanwater.figures.drawing import drawing
from vanwater.figures.roles import DARK_FOR
from vanwater.figures.screen import figure
from vanwater.panels.csv_link import MARK, csv_link, file_stem

__all__ = ["LargePicture"]

_STYLE = """
.vw-large{width:100%;color:var(--jp-ui-font-color1,inherit)}
.vw-plot{width:100%;min-height:120px}
.vw-plot:focus-visible,.vw-save button:focus-visible{outline:2px solid var(--jp-brand-color1,#1976d2);
 outline-offset:2px}
.vw-save{display:flex;gap:6px;padding:2px 0}
.vw-save button{font-size:12px;line-height:18px;padding:1px 10px;border:1px solid var(--jp-border-color1,#8a8a8a);
 border-radius:3px;background:transparent;color:var(--jp-ui-font-color1,inherit);cursor:pointer}
"""


class LargePicture(anywidget.AnyWidget):
    """A chart to zoom and to point at; :meth:`show` changes what it shows.

    Parameters
    ----------
    chart : Chart, optional
        What it shows first.
    us : bool
        US units instead of metric ones.
    plan : str
        The van's name, for the names of files that are saved.
    """

    _esm = Path(__file__).with_suffix(".js").read_text(encoding="utf-8")
    _css = _STYLE
    picture = traitlets.Dict().tag(sync=True)
    tones = traitlets.Dict(dict(DARK_FOR)).tag(sync=True)

    def __init__(self, chart: Chart | None = None, us: bool = False, plan: str = "") -> None:
        super().__init__()
        self.plan = plan
        self._shown: tuple[Chart | None, bool] = (None, False)
        self.on_msg(self._asked)
        self.show(chart, us)

    def show(self, chart: Chart | None, us: bool = False) -> None:
        """Show another chart, drawn when nothing has changed for 0.3 s; what is zoomed stays while its key does.

        Parameters
        ----------
        chart : Chart or None
            What to show; nothing without one.
        us : bool
            US units instead of metric ones.
        """
        self._shown = chart, us
        if chart is None:
            self.picture = {}
            return
        told = f"{words(chart.title, 'terminal', us)} {words(chart.sentence, 'terminal', us)}".strip()
        self.picture = {
            "figure": figure(chart, us),
            "told": told,
            "file": file_stem(chart, self.plan),
            "csv": f"{MARK}{csv(chart, us)}",
        }

    @property
    def still(self) -> str:
        """The same for a page without a kernel."""
        chart, us = self._shown
        if chart is None:
            return "<p>There is nothing to draw yet.</p>"
        return f"{drawing(chart, us)}<p>{csv_link(chart, us, self.plan)}</p>"

    def _asked(self, _: Any, message: Any, __: Any) -> None:
        if isinstance(message, dict) and message.get("want") == "plotly":
            self.send({"script": "plotly"}, buffers=[_script()])

    def _repr_mimebundle_(self, **kwargs: Any) -> Any:
        """The live picture, and for a page without a kernel the same as it stands."""
        bundle = super()._repr_mimebundle_(**kwargs)
        shown, about = bundle if isinstance(bundle, tuple) else (bundle, {})
        told = self.picture.get("told", "There is nothing to draw yet.")
        return {**(shown or {}), "text/html": self.still, "text/plain": told}, about


@lru_cache(maxsize=1)
def _script() -> bytes:
    """The script of plotly, as the installed package brings it."""
    return resources.files("plotly").joinpath("package_data", "plotly.min.js").read_bytes()
