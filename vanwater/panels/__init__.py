"""The bench of a notebook: one plan, and every picture, table and sentence that follows it.

===========  ==========================================================
Bench        the plan under the hand: ``page()``, ``panel()``, ``whole()``; beside others: ``variants()``;
             what is handed on of it: ``hand_on()``
picture      any chart, such as that of a sweep
plan_in_hand the plan that the notebook was opened with
worked_van   a van worked by hand, beside what is reckoned here
published    published values, beside the physics' own
===========  ==========================================================
"""

from vanwater.panels.bench import Bench
from vanwater.panels.initial_plan import plan_in_hand
from vanwater.panels.pieces import picture
from vanwater.panels.published import published
from vanwater.panels.worked import worked_van

__all__ = ["Bench", "picture", "plan_in_hand", "published", "worked_van"]
