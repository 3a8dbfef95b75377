"""The pump's switch and what yields behind it: accumulator and line, as arrays along the rows."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace

import numpy as np
import numpy.typing as npt

from vanwater.physics.accumulator import precharge_elsewhere
from vanwater.physics.atmosphere import air_pressure
from vanwater.physics.switching import ElasticStorage, Switch
from vanwater.plan.model import Plan
from vanwater.plan.pump import Pump
from vanwater.plan.tables import compliances, pipes
from vanwater.quantities import Array
from vanwater.system.accumulators import behind
from vanwater.system.batch import Batch
from vanwater.system.pump import pump_curve

__all__ = [
    "LineCompliance",
    "elastic_storage",
    "line_compliance",
    "precharge_here",
    "pump_line",
    "set_air",
    "side_by_side",
    "switch",
    "switch_gaps",
    "switched",
    "take_up",
    "taken",
]


@dataclass(frozen=True, slots=True, eq=False)
class LineCompliance:
    """Water that hoses and pipes behind a pump take up for each pascal: least, likely, most [m³/Pa]."""

    low: Array
    likely: Array
    high: Array


def switched(plan: Plan) -> tuple[str, ...]:
    """Pumps whose curve and switch pressures are decided."""
    return tuple(name for name, pump in plan.pumps.items() if not switch_gaps(pump))


def switch_gaps(pump: Pump) -> tuple[str, ...]:
    """Fields that must be decided before the starts of a pump can be known."""
    return tuple(field for field in ("curve", "cut_in", "cut_out") if getattr(pump, field) is None)


def switch(batch: Batch, pump: str) -> Switch:
    """The pressure switch of a pump along the rows.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    pump : str
        One of :func:`switched`.

    Returns
    -------
    Switch
        With the pump's curve at its volts.
    """
    return Switch(batch.number(f"pumps.{pump}.cut_in"), batch.number(f"pumps.{pump}.cut_out"), pump_curve(batch, pump))


def line_compliance(batch: Batch, runs: frozenset[str]) -> LineCompliance:
    """Water that runs take up for each pascal, by the hose they are made of.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    runs : frozenset of str
        The runs; those without a length or bore count nothing.

    Returns
    -------
    LineCompliance
        Least, likely (their geometric mean) and most.
    """
    low, high = np.zeros(len(batch)), np.zeros(len(batch))
    for run in sorted(runs):
        addresses = [f"runs.{run}.{field}" for field in ("size", "bore", "length")]
        planned = [batch.plan.at(address) for address in addresses]
        least, most = take_up(*planned)
        low += least
        high += most
        for place in {place for address in addresses for place, _ in batch.changes(address)}:
            other = batch.rows[place].values
            changed = take_up(*(other.get(address, value) for address, value in zip(addresses, planned, strict=True)))
            low[place] += changed[0] - least
            high[place] += changed[1] - most
    return LineCompliance(low, np.sqrt(low * high), high)


def take_up(size: str | None, own: float | None, length: float | None) -> tuple[float, float]:
    """Water that one run takes up for each pascal, at least and at most, by the hose it is made of.

    Parameters
    ----------
    size : str or None
        Key of its stock size.
    own : float or None
        Bore of its own where it has no stock size; reinforced hose is meant then [m].
    length : float or None
        Its length [m].

    Returns
    -------
    tuple of float
        Least and most; none where bore or length is not decided [m³/Pa].
    """
    bore = pipes()[size].bore if size is not None else own
    if bore is None or length is None:
        return 0.0, 0.0
    table = compliances()
    row = table.get(pipes()[size].material if size is not None else "reinforced pvc", table["reinforced pvc"])
    wide = (bore / row.bore) ** 2 * length
    return row.low * wide, row.high * wide


def pump_line(batch: Batch, pump: str) -> LineCompliance:
    """Water that everything behind a pump takes up for each pascal: as measured, else by the hoses.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    pump : str
        The pump.

    Returns
    -------
    LineCompliance
        Without a range where it was measured.
    """
    if batch.plan.pumps[pump].line_gives is not None:
        measured = batch.number(f"pumps.{pump}.line_gives")
        return LineCompliance(measured, measured, measured)
    return line_compliance(batch, behind(batch.plan, pump))


def side_by_side(storages: Sequence[ElasticStorage]) -> ElasticStorage:
    """Several storages of the same rows along a new first axis.

    Parameters
    ----------
    storages : sequence of ElasticStorage
        Each along the rows.

    Returns
    -------
    ElasticStorage
        Every number shaped (storages, rows); a storage with fewer accumulators has empty ones in their place.
    """
    many = max(len(storage.beside) for storage in storages)
    others = [(*storage.beside, *(many - len(storage.beside)) * (ElasticStorage(),)) for storage in storages]
    numbers = [[getattr(storage, name) for storage in storages] for name in _NUMBERS]
    rows = np.broadcast_shapes(*(np.shape(value) for values in numbers for value in values))
    volume, charge, air, line, exponent = (
        np.stack([np.broadcast_to(value, rows) for value in values]) for values in numbers
    )
    return ElasticStorage(volume, charge, air, line, exponent, tuple(map(side_by_side, zip(*others, strict=True))))


def taken(storage: ElasticStorage, rows: int, places: int | npt.NDArray[np.intp]) -> ElasticStorage:
    """A storage in one or several of its rows.

    Parameters
    ----------
    storage : ElasticStorage
        Along the rows.
    rows : int
        How many they are.
    places : int or array of int
        Which of them; a row may be taken more than once.

    Returns
    -------
    ElasticStorage
        Along those.
    """
    volume, charge, air, line, exponent = (np.broadcast_to(getattr(storage, name), rows)[places] for name in _NUMBERS)
    others = tuple(taken(other, rows, places) for other in storage.beside)
    return ElasticStorage(volume, charge, air, line, exponent, others)


def elastic_storage(batch: Batch, accumulators: Sequence[str], line: Array, gas: float | None = None) -> ElasticStorage:
    """What yields between the switch pressures along the rows.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    accumulators : sequence of str
        Names of those that act together, each with its own pre-charge; none for the line alone.
    line : array, shape (rows,)
        Compliance of the line [m³/Pa].
    gas : float, optional
        Temperature of the gas; the one at which each pre-charge was set without it [K].

    Returns
    -------
    ElasticStorage
        The pre-charges as a gauge reads them where the van stands.
    """
    air = air_pressure(batch.number("site.altitude"))
    vessels = [
        ElasticStorage(batch.number(f"accumulators.{name}.volume"), _charge(batch, name, gas), air)
        for name in accumulators
    ]
    first, *others = vessels or [ElasticStorage(atmosphere=air)]
    return replace(first, compliance=line, beside=tuple(others))


def _charge(batch: Batch, accumulator: str, gas: float | None) -> Array:
    """Gauge reading of a pre-charge where the van stands, its gas as warm as it was set, or of a temperature [Pa]."""
    charge, air = precharge_here(batch, accumulator), air_pressure(batch.number("site.altitude"))
    if gas is None:
        return charge
    return precharge_elsewhere(charge, air, batch.number(f"accumulators.{accumulator}.set_at"), air, gas)


_NUMBERS = tuple(field.name for field in fields(ElasticStorage) if field.name != "beside")


def set_air(batch: Batch, accumulator: str) -> Array:
    """Pressure of the air where an accumulator's pre-charge was set: at its own height, else where the van stands [Pa].

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    accumulator : str
        Its name, or an empty text for one that is not planned.
    """
    home = batch.number("site.altitude")
    own = batch.number(f"accumulators.{accumulator}.set_altitude") if accumulator else np.full(len(batch), np.nan)
    return air_pressure(np.where(np.isnan(own), home, own))


def precharge_here(batch: Batch, accumulator: str) -> Array:
    """Gauge reading of a pre-charge where the van stands, as warm as it was set [Pa].

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    accumulator : str
        Its name.
    """
    thinner = set_air(batch, accumulator) - air_pressure(batch.number("site.altitude"))
    return np.asarray(batch.number(f"accumulators.{accumulator}.precharge") + thinner)
