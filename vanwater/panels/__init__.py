"""Panels for a notebook: controls around an answer, and the same answer as pieces that need no widget.

===========  ==========================================================
Panel        controls, one chart, verdict, findings; live
Situations   a panel with the plan's situations above it
Page         verdict, charts, tables, sums, cautions as they stand
picture      any chart, such as that of a sweep
plan_in_hand the plan that the notebook was opened with
worked_van   a van worked by hand, beside what is reckoned here
published    published values, beside the physics' own
===========  ==========================================================
"""

from vanwater.panels.initial_plan import plan_in_hand
from vanwater.panels.panel import Panel
from vanwater.panels.published import published
from vanwater.panels.situations import Situations
from vanwater.panels.static_page import Page, picture
from vanwater.panels.worked import worked_van

__all__ = ["Page", "Panel", "Situations", "picture", "plan_in_hand", "published", "worked_van"]
