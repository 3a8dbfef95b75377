"""The tables that ship with the package: stock sizes, fittings, outlets, habits.

Each row names its source or says "common practice"; ``data/tables/*.csv`` is the place to add one.
"""

from __future__ import annotations

import csv
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from vanwater.quantities import (
    BORE,
    COMPLIANCE,
    CONDUCTIVITY,
    DENSITY,
    FLOW,
    HEAT_CAPACITY,
    LENGTH,
    PRESSURE,
    RATIO,
    ROUGHNESS,
    SHARE,
    TEMPERATURE,
    THICKNESS,
    Quantity,
)

__all__ = [
    "HABITS",
    "ComplianceRow",
    "FittingRow",
    "JointRow",
    "MaterialRow",
    "OutletRow",
    "PipeRow",
    "compliances",
    "fittings",
    "habits",
    "joints",
    "listed_by",
    "materials",
    "outlets",
    "pipes",
    "resource",
    "rows_in",
    "words_in",
]

HABITS = ("careful", "moderate", "home-like")
"""The ready habits."""


def listed_by(word: str) -> str:
    """The sentence that tells how to see what there is."""
    return f"`vanwater stock {word}` lists them."


def resource(*parts: str) -> Path:
    """A file that ships with the package: in the installed package, else in the checkout.

    Parameters
    ----------
    *parts : str
        Folder and file names, such as ``"tables", "pipes.csv"`` below ``data``.

    Returns
    -------
    Path
        An existing file or folder.

    Raises
    ------
    FileNotFoundError
        When neither place has it.
    """
    package = Path(__file__).resolve().parents[1]
    for root in (package, package.parent):
        path = root.joinpath(*parts)
        if path.exists():
            return path
    raise FileNotFoundError(f"{'/'.join(parts)} is missing from the installation")


def rows_in(name: str) -> list[dict[str, str]]:
    """The rows of a table of ``data/tables``, texts by the heads of its columns."""
    with resource("data", "tables", name).open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def words_in(text: str) -> tuple[str, ...]:
    """The words of a cell, between commas."""
    return tuple(word.strip() for word in text.split(",") if word.strip())


def _read(quantity: Quantity, text: str | None) -> float | None:
    return quantity.read(text) if text else None


@dataclass(frozen=True, slots=True, kw_only=True)
class PipeRow:
    """A stock size of pipe or hose; lengths in m, pressures in Pa, temperatures in K.

    It stands ``rated_pressure`` at ``rated_at`` and ``hot_pressure`` at ``hottest``; a waste pipe stands none.
    """

    key: str
    name: str
    kind: str
    material: str
    standard: str
    bore: float
    outside: float | None
    roughness: float
    wall_conductivity: float | None
    source: str
    rated_pressure: float | None
    rated_at: float | None
    hottest: float
    hot_pressure: float | None
    joint: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class MaterialRow:
    """What a wall or an insulation is made of: W/(m·K), kg/m³, J/(kg·K)."""

    key: str
    name: str
    conductivity: float
    density: float
    heat_capacity: float
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class ComplianceRow:
    """Water that a metre of hose takes up for each pascal, least and most, for one bore; m³/Pa and m."""

    key: str
    name: str
    bore: float
    outside: float
    low: float
    high: float
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FittingRow:
    """A fitting's loss, by one of four ways to state it; lengths in m, pressures in Pa, flows in m³/s."""

    key: str
    name: str
    kind: str
    joint: str
    size: str
    k: float | None
    bore_ratio: float | None
    length_in_bores: float | None
    equivalent_length: float | None
    loss: float | None
    loss_at: float | None
    clogged_factor: float
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class JointRow:
    """A way to join, and what it holds on; or a thread with its outside and pitch in m."""

    key: str
    name: str
    kind: str
    on: tuple[str, ...]
    standard: str
    grip: str
    insert: str
    outside: float | None
    pitch: float | None
    source: str


@dataclass(frozen=True, slots=True)
class OutletRow:
    """An outlet's measured flow at a pressure; m³/s and Pa."""

    key: str
    name: str
    regulated: bool
    flow: float
    at: float
    source: str


@lru_cache
def pipes() -> Mapping[str, PipeRow]:
    """Stock sizes by key."""
    return {
        row["key"]: PipeRow(
            key=row["key"],
            name=row["name"],
            kind=row["kind"],
            material=row["material"],
            standard=row["standard"],
            bore=BORE.read(row["bore"]),
            outside=_read(BORE, row["outside"]),
            roughness=_read(ROUGHNESS, row["roughness"]) or 0.0,
            wall_conductivity=_read(CONDUCTIVITY, row["wall_conductivity"]),
            source=row["source"],
            rated_pressure=_read(PRESSURE, row["rated_pressure"]),
            rated_at=_read(TEMPERATURE, row["rated_at"]),
            hottest=TEMPERATURE.read(row["hottest"]),
            hot_pressure=_read(PRESSURE, row["hot_pressure"]),
            joint=words_in(row["joint"]),
        )
        for row in rows_in("pipes.csv")
    }


@lru_cache
def materials() -> Mapping[str, MaterialRow]:
    """Materials of walls and insulation by key."""
    return {
        row["key"]: MaterialRow(
            row["key"],
            row["name"],
            CONDUCTIVITY.read(row["conductivity"]),
            DENSITY.read(row["density"]),
            HEAT_CAPACITY.read(row["heat_capacity"]),
            row["source"],
        )
        for row in rows_in("materials.csv")
    }


@lru_cache
def compliances() -> Mapping[str, ComplianceRow]:
    """How much a metre of hose gives, by the material that the table of pipes names."""
    return {
        row["key"]: ComplianceRow(
            key=row["key"],
            name=row["name"],
            bore=BORE.read(row["bore"]),
            outside=BORE.read(row["outside"]),
            low=COMPLIANCE.read(row["low"]),
            high=COMPLIANCE.read(row["high"]),
            source=row["source"],
        )
        for row in rows_in("compliance.csv")
    }


@lru_cache
def fittings() -> Mapping[str, FittingRow]:
    """Fittings by key."""
    return {
        row["key"]: FittingRow(
            key=row["key"],
            name=row["name"],
            kind=row["kind"],
            joint=row["joint"],
            size=row["size"],
            k=_read(RATIO, row["k"]),
            bore_ratio=_read(SHARE, row["bore_ratio"]),
            length_in_bores=_read(RATIO, row["length_in_bores"]),
            equivalent_length=_read(LENGTH, row["equivalent_length"]),
            loss=_read(PRESSURE, row["loss"]),
            loss_at=_read(FLOW, row["loss_at"]),
            clogged_factor=_read(RATIO, row["clogged_factor"]) or 1.0,
            source=row["source"],
        )
        for row in rows_in("fittings.csv")
    }


@lru_cache
def joints() -> Mapping[str, JointRow]:
    """Ways to join, and threads, by key."""
    return {
        row["key"]: JointRow(
            key=row["key"],
            name=row["name"],
            kind=row["kind"],
            on=words_in(row["on"]),
            standard=row["standard"],
            grip=row["grip"],
            insert=row["insert"],
            outside=_read(BORE, row["outside"]),
            pitch=_read(THICKNESS, row["pitch"]),
            source=row["source"],
        )
        for row in rows_in("joints.csv")
    }


@lru_cache
def outlets() -> Mapping[str, OutletRow]:
    """Outlets by key."""
    return {
        row["key"]: OutletRow(
            row["key"],
            row["name"],
            row["kind"] == "regulated",
            FLOW.read(row["flow"]),
            PRESSURE.read(row["at"]),
            row["source"],
        )
        for row in rows_in("outlets.csv")
        if row["kind"] != "limit"  # a legal maximum flow is no outlet's constant
    }


@lru_cache
def habits(name: str) -> Mapping[str, Mapping[str, object]]:
    """The uses of a ready habit, as the texts that a plan would hold.

    Parameters
    ----------
    name : str
        "careful", "moderate" or "home-like".

    Returns
    -------
    mapping
        Use name to the fields of a use, as texts.
    """
    uses: dict[str, Mapping[str, object]] = {}
    for row in rows_in("habits.csv"):
        if row["habit"] != name:
            continue
        fields: dict[str, object] = {
            key: row[key]
            for key in ("a_day", "per", "flow", "duration", "volume", "adds", "temperature", "returns", "to")
            if row.get(key)
        }
        fields["hot"] = row["hot"] == "yes"
        uses[row["use"]] = fields
    return uses
