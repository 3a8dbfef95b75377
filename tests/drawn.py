"""How much hypothesis draws, said in one place.

By default a failing example is told as it was drawn, with the line that reproduces it: making it smaller asks the same
sums up to five minutes long. ``VANWATER_DRAWN=thorough`` draws many times as much and makes what fails small.
"""

from __future__ import annotations

import os

from hypothesis import HealthCheck, Phase, settings

__all__ = ["WHOLE_FILES", "WHOLE_PLANS"]

_THOROUGH = os.environ.get("VANWATER_DRAWN") == "thorough"

settings.register_profile(
    "thorough",
    parent=settings.get_profile(settings.get_current_profile_name()),
    max_examples=500,
    deadline=None,
    print_blob=True,
)
settings.register_profile(
    "quick",
    parent=settings.get_profile(settings.get_current_profile_name()),
    phases=[Phase.explicit, Phase.reuse, Phase.generate],
    deadline=None,
    print_blob=True,
)
settings.load_profile("thorough" if _THOROUGH else "quick")

WHOLE_PLANS = settings(max_examples=250 if _THOROUGH else 10, suppress_health_check=list(HealthCheck))
"""Where each example is a whole plan; what every shape of plan must hold is asked in some forty tests."""

WHOLE_FILES = settings(max_examples=250 if _THOROUGH else 20, suppress_health_check=list(HealthCheck))
"""Where each example is a whole file with comments and odd spaces."""
