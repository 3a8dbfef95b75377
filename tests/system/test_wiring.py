from __future__ import annotations

import numpy as np
import pytest

from tests.examples import example
from vanwater.system.batch import Batch, Row
from vanwater.system.wiring import cable_ampacity

FAMILY = example("family-winter")
PUMP = "cables.pump cable"


def carries(**said: object) -> float:
    plan = FAMILY.changed({f"{PUMP}.{field}": value for field, value in said.items()})
    return float(cable_ampacity(Batch(plan), "pump cable")[0])


def test_what_a_cable_may_carry_as_printed() -> None:
    """6 mm²: 29 A at 60 °C, 45 A at 70 °C, 50 A at 85 to 90 °C, 60 A at 105 °C; 10 AWG: 50 A at 80 °C, 60 A at 105."""
    assert carries() == 45.0 and carries(insulation="60 °C") == 29.0
    assert carries(insulation="84 °C") == 45.0 and carries(insulation="90 °C") == 50.0
    assert carries(insulation="105 °C") == 60.0
    assert carries(insulation="105 °C", engine_space=True) == pytest.approx(0.86 * 60)
    assert carries(section=None, awg=10) == 50.0
    assert carries(section=None, awg=10, insulation="105 °C") == 60.0
    assert carries(section="7 mm²") == 45.0


def test_it_is_along_the_rows() -> None:
    plan = FAMILY.changed({f"{PUMP}.insulation": "105 °C"})
    rows = [Row("plain", {f"{PUMP}.insulation": 273.15 + 70}), Row("thick", {f"{PUMP}.section": 10e-6})]
    np.testing.assert_allclose(cable_ampacity(Batch(plan, rows), "pump cable"), [60.0, 45.0, 90.0])
