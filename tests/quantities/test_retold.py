from __future__ import annotations

import re

import pytest

from vanwater.plan.address import known_keys, note, part_of
from vanwater.plan.model import Plan
from vanwater.plan.tables import fittings, materials, outlets, pipes
from vanwater.quantities import retold

OF_METRIC = re.compile(
    r"(?<![\w.·/])\d[\d.]* (?:mm|cm|m|L|mL|L/min|bar|kg|°C|kg/m³)(?!\w|[/·²³]| [/|])|\blit(?:re|er)s?\b"
)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("thickness of its wall; 5 mm if not said", "thickness of its wall; 0.2 in if not said"),
        (
            "its pressure falls at 10 L/min; 0.5 bar if not said",
            "its pressure falls at 2.6 gal/min; 7.3 psi if not said",
        ),
        ("they grow from 25 to 50 °C", "they grow from 77 to 122 °F"),
        ("valid from −20 to 110 °C", "valid from −4 to 230 °F"),
        ("V · 4.186 MJ/(m³·K) · (T_s − T_c) / P", "V · 2.445 Wh/(gal·°F) · (T_s − T_c) / P"),
        ("c = 4186 J/(kg·K), r = 334 kJ/kg", "c = 0.9998 Btu/(lb·°F), r = 144 Btu/lb"),
        ("1 kg/L by volume", "8.3 lb/gal by volume"),
        ("PEX pipe 12 x 1.7 mm, series S 3.2", "PEX pipe 0.47 x 0.067 in, series S 3.2"),
        ("Reinforced PVC hose, 19 mm bore (3/4 in)", "Reinforced PVC hose, 3/4 in bore"),
        ("2 L / a", "2 L / a"),
        ("a run of 4 Σ L / a, 2 L ρ", "a run of 4 Σ L / a, 2 L ρ"),
        (
            "IAPWS SR6-08 (2011), Properties of Liquid Water at 0.1 MPa",
            "IAPWS SR6-08 (2011), Properties of Liquid Water at 0.1 MPa",
        ),
        ("standard gravity, 9.80665 m/s²", "standard gravity, 9.80665 m/s²"),
    ],
)
def test_values_of_the_program_are_told_in_us_units(text: str, told: str) -> None:
    assert retold(text, True) == told


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("5 min at 120 °F, 30 s at 130 °F", "5 min at 49 °C, 30 s at 54 °C"),
        ("housings of 10 in cartridges: 125 psi up to 125 °F", "housings of 10 in cartridges: 8.62 bar up to 52 °C"),
        ("accumulator, 24 fl oz nominal", "accumulator, 710 mL nominal"),
        ("Reinforced PVC hose, 19 mm bore (3/4 in)", "Reinforced PVC hose, 19 mm bore"),
        ("PEX tube 3/8 in, SDR 9", "PEX tube 3/8 in, SDR 9"),
    ],
)
def test_values_of_the_program_are_told_in_metric_units(text: str, told: str) -> None:
    assert retold(text, False) == told


def test_what_is_metric_already_stays() -> None:
    for text in ("5 mm if not said", "25 to 50 °C", "V · 4.186 MJ/(m³·K)"):
        assert retold(text, False) == text


def _described() -> list[str]:
    tables = (
        "tanks",
        "pumps",
        "runs",
        "outlets",
        "mixers",
        "accumulators",
        "heaters",
        "pads",
        "mains",
        "uses",
        "loads",
    )
    ways = [(key,) for key in known_keys(Plan)] + [(key, "any") for key in tables]
    parts = [(way, part) for way in ways if (part := part_of(Plan, list(way))) is not None]
    return [note(Plan, ".".join((*way, field))).said(True) for way, part in parts for field in known_keys(part)]


def test_help_of_every_field_and_names_of_stock_are_in_us_units() -> None:
    described = _described()
    assert "thickness of its wall; 0.2 in if not said" in described
    rows = (*pipes().values(), *fittings().values(), *outlets().values(), *materials().values())
    told = [*described, *(retold(row.name, True) for row in rows)]
    assert [text for text in told if OF_METRIC.search(text)] == []
