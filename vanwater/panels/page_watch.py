"""A widget without a face: it tells the kernel which page shows a panel, and names its sliders for screen readers.

A page that is loaded anew finds the panels again, whose widgets live in the kernel, but no cell that followed by its
display: those stand as they were saved. Only the page itself knows that it is another one.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import anywidget

__all__ = ["PageWatch"]

_SCRIPT = """
const page = (globalThis.vanwaterPage ??= Math.random().toString(36).slice(2) + Date.now().toString(36));

function named(panel) {
  for (const control of panel.querySelectorAll(".vw-control")) {
    const name = control.querySelector(".vw-label")?.dataset.name;
    const box = control.querySelector("input[type=text]");
    const handle = control.querySelector(".noUi-handle");
    if (name && handle) {
      handle.setAttribute("aria-label", name);
      if (box) handle.setAttribute("aria-valuetext", box.value);
    }
    const home = control.querySelector(".vw-reset");
    if (home && home.title) home.setAttribute("aria-label", home.title);
  }
}

function render({ model, el }) {
  el.style.display = "none";
  model.send({ page });
  let watch = null;
  const start = setInterval(() => {
    const panel = el.closest(".vw-panel");
    if (!panel) return;
    clearInterval(start);
    let waiting = false;
    const soon = () => {
      if (waiting) return;
      waiting = true;
      setTimeout(() => { waiting = false; named(panel); }, 200);
    };
    watch = new MutationObserver(soon);
    watch.observe(panel, { childList: true, subtree: true });
    soon();
  }, 100);
  return () => { clearInterval(start); watch?.disconnect(); };
}

export default { render };
"""


class PageWatch(anywidget.AnyWidget):
    """What tells that a page shows a panel.

    Parameters
    ----------
    seen : callable
        Told what the page calls itself, at each showing.
    """

    _esm = _SCRIPT

    def __init__(self, seen: Callable[[str], None]) -> None:
        super().__init__()
        self._seen = seen
        self.on_msg(self._told)

    def _told(self, widget: Any, content: Any, buffers: Any) -> None:  # noqa: ARG002 - what every widget is told
        page = content.get("page") if isinstance(content, dict) else None
        if isinstance(page, str) and page:
            self._seen(page[:64])
