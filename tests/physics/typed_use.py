"""What mypy knows of the physics by their one door: read by mypy with the package, an unused ignore is an error."""

from __future__ import annotations

import vanwater
from vanwater.physics import PumpCurve, friction_loss, hammer
from vanwater.quantities import Array


def use(curve: PumpCurve) -> tuple[Array, Array]:
    """Right and wrong uses."""
    friction_loss("12 mm")  # type: ignore[call-arg, arg-type]
    hammer.hammer("fast")  # type: ignore[call-arg, arg-type]
    vanwater.physics.frictionloss  # type: ignore[attr-defined]  # noqa: B018
    return vanwater.physics.velocity(1e-4, 0.01), curve.flow
