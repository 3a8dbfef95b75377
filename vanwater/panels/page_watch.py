"""A widget without a face: it tells the kernel which page shows a panel and how much room its picture has.

It also gives names to what JupyterLab leaves without one, for screen readers.

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
  for (const slot of panel.querySelectorAll(".vw-slot")) {
    const told = slot.querySelector(".vw-finding")?.textContent ?? "";
    slot.querySelector("button")?.setAttribute("aria-label", `why: ${told.slice(0, 90)}`);
  }
  for (const fold of panel.querySelectorAll("button.widget-toggle-button")) {
    const tab = fold.closest(".vw-tabs") ? "aria-pressed" : "aria-expanded";
    fold.setAttribute(tab, fold.classList.contains("mod-active"));
  }
  panel.querySelector("div.vw-verdict")?.parentElement.setAttribute("aria-live", "polite");
}

function keyed(panel, signal) {
  let last = null;  // what had the focus: a button that can be pressed no longer hands it on to its neighbour
  panel.addEventListener("focusin", (event) => { last = event.target; }, { signal });
  // JupyterLab's keys for cells (D D deletes one) are not meant while a control has the focus; Ctrl+S still is
  const keys = ({ target, ctrlKey, metaKey }) => {
    if (panel.contains(target)) target.toggleAttribute("data-lm-suppress-shortcuts", !ctrlKey && !metaKey);
  };
  addEventListener("keydown", keys, { capture: true, signal });
  return () => {
    if (!last || document.activeElement !== document.body || (!last.disabled && last.offsetParent)) return;
    const all = last.closest(".vw-control, .vw-bar")?.querySelectorAll(".noUi-handle, select, input, button") ?? [];
    [...all].find((each) => each.offsetParent && !each.disabled)?.focus({ preventScroll: true });
  };
}

function render({ model, el }) {
  el.style.display = "none";
  model.send({ page });
  let watch = null, room = null;
  const ended = new AbortController();
  const start = setInterval(() => {
    const panel = el.closest(".vw-panel");
    if (!panel) return;
    clearInterval(start);
    const kept = keyed(panel, ended.signal);
    let waiting = false;
    const soon = () => {
      if (waiting) return;
      waiting = true;
      setTimeout(() => { waiting = false; named(panel); kept(); }, 200);
    };
    watch = new MutationObserver(soon);
    watch.observe(panel, { childList: true, subtree: true, attributeFilter: ["class", "disabled", "style"] });
    soon();
    let wide = 0;
    room = new ResizeObserver(([{ contentRect }]) => {
      if (contentRect.width && Math.abs(contentRect.width - wide) > 8) model.send({ wide: wide = contentRect.width });
    });
    room.observe(panel.querySelector(".vw-chart"));
  }, 100);
  return () => { clearInterval(start); watch?.disconnect(); room?.disconnect(); ended.abort(); };
}

export default { render };
"""


class PageWatch(anywidget.AnyWidget):
    """What tells that a page shows a panel.

    Parameters
    ----------
    seen : callable
        Told what the page calls itself, at each showing.

    Attributes
    ----------
    room : callable
        Told how many pixels wide the picture's place is, whenever that changes.
    """

    _esm = _SCRIPT

    def __init__(self, seen: Callable[[str], None]) -> None:
        super().__init__()
        self._seen = seen
        self.room: Callable[[float], None] = lambda _: None
        self.on_msg(self._told)

    def _told(self, widget: Any, content: Any, buffers: Any) -> None:  # noqa: ARG002 - what every widget is told
        page = content.get("page") if isinstance(content, dict) else None
        if isinstance(page, str) and page:
            self._seen(page[:64])
        wide = content.get("wide") if isinstance(content, dict) else None
        if isinstance(wide, int | float) and wide > 0:
            self.room(float(wide))
