"""The sizes of a part that are sold, the smallest first, each as values for a plan."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from vanwater.plan.address import nearest
from vanwater.plan.electricity import Battery
from vanwater.plan.energy import Heater
from vanwater.plan.model import Plan
from vanwater.plan.part import Part
from vanwater.plan.problems import PlanError, Problem, shown
from vanwater.plan.pump import Pump
from vanwater.plan.sold import sold
from vanwater.plan.stock import StockPart
from vanwater.plan.tables import PipeRow, pipes
from vanwater.plan.tanks import SIDES, Tank, content, label_of
from vanwater.plan.winter import Pad
from vanwater.quantities import BORE, CHARGE, FLOW, NO_BREAK, POWER, THICKNESS, VOLUME, Quantity

__all__ = ["Ladder", "Size", "ladder", "ladders"]

_ALIKE = 1e-6
"""Share by which two sizes differ that are one size to everybody who buys them."""

_VOLTS_ALIKE = 0.25
"""Share by which a battery at rest and one on charge differ, and no 12 V from 24 V part does."""

_OTHER_SYSTEM = {False: (" gal", " fl oz", " in"), True: (" L", " mL", " mm")}
"""How names of sizes end that are sold where the other system of units is used."""

_DROPPED: Mapping[str, tuple[str, ...]] = {
    "tanks": (
        *("stock", "capacity", "shape", "lies", "length", "width", "height", "diameter", "wall", "material"),
        *("pickup", "pickup_from_front", "pickup_from_left", "overflow", "out_of_reach"),
    ),
    "heaters": ("stock", "volume", "power", "standby"),
    "battery": ("stock", "charge", "max_current"),
}
"""What another size of a part brings with it; all else of the part stays as the builder says it."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Size:
    """A size that is sold.

    Parameters
    ----------
    name : str
        What one asks for in the shop.
    measure : float
        What makes it larger or smaller than another [SI].
    values : mapping of str to object
        The plan's values with it, by address, as the file would hold them.
    """

    name: str
    measure: float
    values: Mapping[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class Ladder:
    """The sizes of one part of a plan.

    Parameters
    ----------
    address : str
        The part, or the value: "tanks.grey", "tanks.fresh.foam".
    name : str
        What it is called in a sentence.
    quantity : Quantity
        Of what makes a size larger.
    now : float or None
        The plan's own [SI]; None where it is not decided.
    sizes : tuple of Size
        The smallest first.
    """

    address: str
    name: str
    quantity: Quantity
    now: float | None
    sizes: tuple[Size, ...]

    @property
    def smaller(self) -> Size | None:
        """The next size below the plan's own; None where none is sold, or the plan's own is not decided."""
        if self.now is None:
            return None
        return next((size for size in reversed(self.sizes) if size.measure < self.now * (1.0 - _ALIKE)), None)

    @property
    def larger(self) -> Size | None:
        """The next size above it."""
        if self.now is None:
            return None
        return next((size for size in self.sizes if size.measure > self.now * (1.0 + _ALIKE)), None)


def ladder(plan: Plan, address: str) -> Ladder:
    """The sizes that are sold of a part, or of the foam on it.

    Parameters
    ----------
    plan : Plan
        The plan.
    address : str
        "tanks.NAME", "runs.NAME", "pumps.NAME", "accumulators.NAME", "heaters.NAME", "pads.NAME", "battery", or the
        foam of a tank or run, "tanks.NAME.foam".

    Returns
    -------
    Ladder
        Of generic parts and of the builder's own shelf, as the plan's own kind of part: a pump of the same kind and
        volts, a hose of the same stuff, a heater with the same source.

    Raises
    ------
    PlanError
        When the plan has no such part, or nothing of its kind is sold in sizes.
    """
    table, _, rest = address.partition(".")
    name, field = (rest.removesuffix(".foam"), "foam") if rest.endswith(".foam") else (rest, "")
    make = _KINDS.get((table, field))
    known = _addresses(plan)
    if make is None or address not in known:
        close = nearest(address, tuple(known))
        slip = f"Did you mean {shown(close)}?" if close else ""
        few = ", ".join(list(known)[:8]) or "a plan with a tank, a run, a pump or a heater"
        raise PlanError([Problem(address, "No sizes are sold of that.", f"one of {few}", slip)])
    rungs = make(plan, name)
    if not rungs.sizes:
        raise PlanError([Problem(address, "Nothing of its kind is in the stock.", "a part on a shelf of your own")])
    return rungs


def ladders(plan: Plan) -> Iterator[Ladder]:
    """Those of every part of a plan.

    Parameters
    ----------
    plan : Plan
        The plan.

    Yields
    ------
    Ladder
        Parts of which no other size is sold are left out.
    """
    for address in _addresses(plan):
        table, _, rest = address.partition(".")
        name, field = (rest.removesuffix(".foam"), "foam") if rest.endswith(".foam") else (rest, "")
        rungs = _KINDS[table, field](plan, name)
        if rungs.sizes and rungs.now is not None:
            yield rungs


def _addresses(plan: Plan) -> dict[str, None]:
    addresses: dict[str, None] = {}
    for table in ("tanks", "heaters", "pumps", "accumulators", "pads", "runs"):
        addresses |= {f"{table}.{name}": None for name in getattr(plan, table)}
    if plan.battery is not None:
        addresses["battery"] = None
    addresses |= {f"tanks.{name}.foam": None for name in plan.tanks}
    return addresses | {f"runs.{name}.foam": None for name in plan.runs}


def _made(
    address: str, name: str, quantity: Quantity, now: float | None, sizes: Iterable[tuple[str, float, Any]]
) -> Ladder:
    """A ladder of sizes by name, measure and values; of two with one measure the first."""
    rungs: dict[float, Size] = {}
    for label, measure, values in sorted(sizes, key=lambda size: size[1]):
        if all(abs(measure - other) > _ALIKE * measure for other in rungs):
            rungs[measure] = Size(name=label, measure=measure, values=values)
    return Ladder(address=address, name=name, quantity=quantity, now=now, sizes=tuple(rungs.values()))


def _sold_here(plan: Plan, names: Iterable[str], own: Iterable[str] = ()) -> list[str]:
    """Those that are sold in the plan's system of units, all of them where it has none; the builder's own in any."""
    listed, mine = list(names), set(own)
    here = [name for name in listed if name in mine or not name.endswith(_OTHER_SYSTEM[plan.us])]
    return here or listed


def _parts(plan: Plan, table: str, kind: Callable[[StockPart], bool]) -> dict[str, StockPart]:
    held = {name: part for name, part in plan.own_shelf.held(table).items() if kind(part)}
    return {name: held[name] for name in _sold_here(plan, held, plan.own_shelf.parts.get(table, {}))}


def _whole(plan: Plan, table: str, name: str, stock: str) -> dict[str, Any]:
    """The part with another size of the stock in it."""
    own = plan.own[table][name] if name else plan.own[table]
    kept = {key: value for key, value in own.items() if key not in _DROPPED[table]}
    return {f"{table}.{name}" if name else table: {**kept, "stock": stock}}


def _read(model: type[Part], part: StockPart) -> Any:
    return model.model_validate(dict(part.fields), context={"file": True})


def _litres(tank: Tank) -> float | None:
    """What one of it holds [m³]: the lesser of its capacity and its sides."""
    sides = {side: getattr(tank, side) for side in SIDES[tank.shape]}
    height = tank.inside_height
    if height is None or None in sides.values():
        return tank.capacity
    held = float(content(tank.shape, height, sides))
    return held if tank.capacity is None else min(held, tank.capacity)


def _tanks(plan: Plan, name: str) -> Ladder:
    tank = plan.tanks[name]
    held = _parts(plan, "tanks", lambda part: part.fields.get("holds") == tank.holds)
    sizes = [
        (stock, _litres(_read(Tank, part)) or 0.0, _whole(plan, "tanks", name, stock)) for stock, part in held.items()
    ]
    return _made(f"tanks.{name}", label_of(name), VOLUME, _litres(tank), sizes)


def _heaters(plan: Plan, name: str) -> Ladder:
    heater = plan.heaters[name]
    held = _parts(plan, "heaters", lambda part: part.fields.get("source", "inverter") == heater.source)
    sizes = [(stock, _read(Heater, part).volume, _whole(plan, "heaters", name, stock)) for stock, part in held.items()]
    return _made(f"heaters.{name}", name, VOLUME, heater.volume, sizes)


def _pumps(plan: Plan, name: str) -> Ladder:
    """Pumps of the same kind and volts by what they give freely; place, connections and cable stay."""
    pump = plan.pumps[name]

    def alike(part: StockPart) -> bool:
        other = _read(Pump, part)
        mine, theirs = pump.curve_volts or pump.volts, other.curve_volts or other.volts
        same = mine is None or theirs is None or abs(theirs - mine) <= _VOLTS_ALIKE * mine
        return bool(other.kind == pump.kind and same)

    kept = {key: value for key, value in plan.own["pumps"][name].items() if key in ("z", "joint", "volts", "tank")}
    kept |= {"kind": pump.kind}
    sizes = [
        (stock, _free_flow(_read(Pump, part)), {f"pumps.{name}": {**kept, "stock": stock}})
        for stock, part in _parts(plan, "pumps", alike).items()
    ]
    now = _free_flow(pump)
    return _made(f"pumps.{name}", name, FLOW, now or None, sizes)


def _free_flow(pump: Pump) -> float:
    if pump.stroke is not None and pump.strokes is not None:
        return pump.stroke * pump.strokes
    return max((flow for flow, _ in pump.curve or ()), default=0.0)


def _accumulators(plan: Plan, name: str) -> Ladder:
    held = _parts(plan, "accumulators", lambda _: True)
    at = f"accumulators.{name}.volume"
    sizes = [(stock, VOLUME.read(part.fields["volume"]), {at: part.fields["volume"]}) for stock, part in held.items()]
    return _made(f"accumulators.{name}", name, VOLUME, plan.accumulators[name].volume, sizes)


def _pads(plan: Plan, name: str) -> Ladder:
    """Pads by their power; what protects and feeds the pad stays, and so does how its heat gets into the water."""
    own = plan.pads[name]
    held = _parts(plan, "pads", lambda part: bool(_read(_LoosePad, part).net_share == own.net_share))
    at = f"pads.{name}.power"
    sizes = [(stock, POWER.read(part.fields["power"]), {at: part.fields["power"]}) for stock, part in held.items()]
    return _made(f"pads.{name}", name, POWER, own.power, sizes)


class _LoosePad(Pad):
    """A pad of the stock, which is on no tank yet."""

    tank: str = ""


def _batteries(plan: Plan, _: str) -> Ladder:
    own = plan.battery
    assert own is not None

    def alike(part: StockPart) -> bool:
        other = _read(Battery, part)
        volts = abs(other.volts - own.volts) <= _VOLTS_ALIKE * own.volts
        return bool(volts and (own.chemistry is None or other.chemistry == own.chemistry))

    held = _parts(plan, "battery", alike)
    sizes = [(stock, _read(Battery, part).charge, _whole(plan, "battery", "", stock)) for stock, part in held.items()]
    return _made("battery", "battery", CHARGE, own.charge, sizes)


def _runs(plan: Plan, name: str) -> Ladder:
    """Hose and pipe of the same stuff by their bore; without a stock size, the bores that are sold."""
    run = plan.runs[name]
    row = pipes().get(run.size or "")
    sizes: list[tuple[str, float, Any]]
    if row is None:
        at = f"runs.{name}.bore"
        texts = {BORE.written(bore, plan.us): bore for bore in sold(plan.us).bores}
        sizes = [(_plain(BORE, bore, plan.us), bore, {at: text}) for text, bore in texts.items()]
        return _made(f"runs.{name}", name, BORE, run.bore, sizes if run.bore is not None else ())
    alike = [key for key, other in pipes().items() if _same_stuff(row, other)]
    sizes = [(key, pipes()[key].bore, {f"runs.{name}.size": key}) for key in _sold_here(plan, alike)]
    return _made(f"runs.{name}", name, BORE, row.bore, sizes)


def _same_stuff(row: PipeRow, other: PipeRow) -> bool:
    return (row.kind, row.material) == (other.kind, other.material)


def _foam(table: str) -> Callable[[Plan, str], Ladder]:
    def sized(plan: Plan, name: str) -> Ladder:
        part = getattr(plan, table)[name]
        at = f"{table}.{name}.foam"
        thicknesses = sold(plan.us).sheets if table == "tanks" else sold(plan.us).sleeves
        sizes = [
            (f"{_plain(THICKNESS, thick, plan.us)} foam", thick, {at: THICKNESS.written(thick, plan.us)})
            for thick in thicknesses
        ]
        label = label_of(name) if table == "tanks" else name
        return _made(at, f"foam on {label}", THICKNESS, part.foam, sizes)

    return sized


def _plain(quantity: Quantity, value: float, us: bool) -> str:
    return quantity.text(value, us).replace(NO_BREAK, " ")


_KINDS: Mapping[tuple[str, str], Callable[[Plan, str], Ladder]] = {
    ("tanks", ""): _tanks,
    ("heaters", ""): _heaters,
    ("pumps", ""): _pumps,
    ("accumulators", ""): _accumulators,
    ("pads", ""): _pads,
    ("battery", ""): _batteries,
    ("runs", ""): _runs,
    ("tanks", "foam"): _foam("tanks"),
    ("runs", "foam"): _foam("runs"),
}
