"""Plans of every shape, and plans that are broken in a known way.

``plans()`` makes valid tables as a file holds them (texts with units); ``bad_plans()`` breaks one and says at which
address that must be reported.

How to extend: a new field that is a quantity, a choice, a whole number or a yes-or-no is found by itself, since
``fields`` reads the model. A field that names something, or that must fit another one, gets its own line in the
function of its table (one function a table). A new table gets a function and a line in ``plans``. A new way to break
a plan is a function of (draw, raw) in ``BREAKS`` that changes the tables and returns the address, or None when the
plan has nothing to break in that way.
"""

from __future__ import annotations

import copy
import datetime as dt
from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import cache, lru_cache
from typing import Any, get_args

from hypothesis import strategies as st

from vanwater.plan.address import known_keys, nearest, note, part_of
from vanwater.plan.day import Day
from vanwater.plan.electricity import Alternator, Appliance, Battery, Cable, Converter, Inverter, Shore, Sun
from vanwater.plan.energy import Heater
from vanwater.plan.household import Agreed, Household, Revision, Site, Use, Van
from vanwater.plan.joint import ENDS
from vanwater.plan.measured import Measured
from vanwater.plan.model import Plan
from vanwater.plan.part import Part
from vanwater.plan.places import Opening
from vanwater.plan.pump import BELONGS, Kind, Mains, Pump
from vanwater.plan.supply import Accumulator, Fitting, Mixer, Outlet, Run, Tee
from vanwater.plan.tables import HABITS, fittings, habits, materials, outlets, pipes
from vanwater.plan.tanks import HOLDS, LESS, MORE, SIDES, Tank, content
from vanwater.plan.vehicle import Load, Vehicle
from vanwater.plan.winter import Body, Face, Frost, Pad, Readings, Water
from vanwater.quantities import FLOW, PRESSURE, SHARE, Quantity, QuantityError

Raw = dict[str, Any]
Fields = dict[str, st.SearchStrategy[Any]]
Draw = Callable[[st.SearchStrategy[Any]], Any]

LETTERS = "abcdefgxyzABCXYZ0123456789_ -éßøñ水шα"


@cache
def names() -> st.SearchStrategy[str]:
    """Names that are odd, but legal."""
    first = [letter for letter in LETTERS if letter not in " -"]
    tail = st.text(LETTERS, max_size=12) | st.text(LETTERS, min_size=39, max_size=39)
    made = st.builds("".join, st.tuples(st.sampled_from(first), tail))
    return made.filter(lambda name: name not in (*HOLDS, "outside"))


@cache
def texts(longest: int = 30) -> st.SearchStrategy[str]:
    """Texts that a builder may write anywhere, with all that could be markup somewhere."""
    return st.text(st.characters(exclude_categories=("Cs", "Cc")), min_size=1, max_size=longest)


@lru_cache(maxsize=1024)
def amounts(quantity: Quantity, low: float | None = None, high: float | None = None) -> st.SearchStrategy[str]:
    """A believable value of a quantity in any of its units."""

    def written(value: float, name: str) -> str:
        text = f"{float(quantity.spellings[name].from_si(value)):.6g} {name}".strip()
        try:
            read = quantity.read(text)
        except QuantityError:
            return quantity.written(value)
        inside = (low is None or read >= low) and (high is None or read <= high)
        return text if inside else quantity.written(value)

    values = st.floats(quantity.low if low is None else low, quantity.high if high is None else high)
    units = st.sampled_from([name for name in quantity.spellings if name or quantity.si == "1"])
    return st.builds(written, values, units)


@cache
def connections() -> st.SearchStrategy[str]:
    """Connections as a builder writes them."""
    threads = st.builds(
        "{} {} in {}".format,
        st.sampled_from(("BSP", "npt")),
        st.sampled_from(("1/4", "3/8", "1/2", "3/4", "1")),
        st.sampled_from(("male", "female")),
    )
    held = st.builds("{} {}".format, st.sampled_from(ENDS), st.sampled_from(("10 mm", "12 mm", "15.9 mm", "1/2 in")))
    return threads | held | st.sampled_from(("M22 x 1.5 male", "m16x1.5 female"))


def fields(part: type[Part], **own: st.SearchStrategy[Any]) -> Fields:
    """A strategy for every field of a part: read from the model, or its own where that says too little."""
    return {**_read_from_model(part, frozenset(own)), **own}


@cache
def _read_from_model(part: type[Part], without: frozenset[str]) -> Fields:
    found: Fields = {}
    for key in known_keys(part):
        if key in without or key == "stock":  # parts by name have tests of their own
            continue
        told = note(part, key)
        hint = part.model_fields[next(n for n, f in part.model_fields.items() if key == (f.alias or n))].annotation
        if told.quantity is not None:
            found[key] = amounts(told.quantity)
        elif told.choices:
            found[key] = st.sampled_from(told.choices)
        elif told.whole is not None:
            found[key] = st.integers(*told.whole)
        elif key in ("joint", "start_joint", "end_joint"):
            found[key] = connections()
        elif key == "why":
            found[key] = st.sampled_from(("", "It leaves the bed its room.", '1 < 2 & "lighter" {so}'))
        elif "bool" in str(hint):
            found[key] = st.booleans()
        else:
            raise TypeError(f"tests/strategies.py has no strategy for {part.__name__}.{key}")
    return found


def some(given: Fields, needed: tuple[str, ...] = ()) -> st.SearchStrategy[Raw]:
    """Tables with the needed fields and any of the others."""
    rest = {key: strategy for key, strategy in given.items() if key not in needed}
    return st.fixed_dictionaries({key: given[key] for key in needed}, optional=rest)


def read(part: type[Part], key: str, text: str) -> float:
    """The SI value of a field's text."""
    quantity = note(part, key).quantity
    assert quantity is not None
    return quantity.read(text)


# --- one function a table ------------------------------------------------------------------------------


@cache
def vans() -> st.SearchStrategy[Raw]:
    return some(
        fields(
            Van,
            name=texts(80),
            revision=texts(20),
            note=texts(400),
            **dict.fromkeys(("builder", "customer", "checked"), texts(80)),
            **dict.fromkeys(("chassis", "drawing"), texts(40)),
            without=st.just([]),
        ),
        ("name",),
    )


@cache
def households() -> st.SearchStrategy[Raw]:
    return some(fields(Household), ("people",))


@cache
def sites() -> st.SearchStrategy[Raw]:
    coldest = note(Site, "cold_water").quantity
    assert coldest is not None
    return some(fields(Site, cold_water=amounts(coldest, high=273.15 + 29)))  # below every set point here


@cache
def _any_tank(holds: str) -> st.SearchStrategy[Raw]:
    given = fields(
        Tank,
        holds=st.just(holds),
        material=st.sampled_from(sorted(materials())),
        refills=st.none(),
        **dict.fromkeys(("filler", "drain"), some(fields(Opening))),
        faces=st.dictionaries(
            st.sampled_from(("top", "bottom", "front", "rear", "left", "right")), some(fields(Face)), max_size=3
        ),
    )
    del given["refills"]
    return some(given, ("holds",))


@st.composite
def tanks(draw: Draw, holds: str) -> Raw:
    tank = draw(_any_tank(holds))
    tank.pop("shape", None)
    shape = draw(st.sampled_from([None, *SIDES]))
    for side in ("length", "width", "height", "diameter"):
        tank.pop(side, None)
    if shape is not None:
        if shape != "box" or draw(st.booleans()):
            tank["shape"] = shape
        told = dict.fromkeys(("material", "refills", "faces", "filler", "drain"), st.none())
        sides = fields(Tank, **told)
        tank |= {side: draw(sides[side]) for side in SIDES[shape]}
        tank.pop("capacity", None)
        if draw(st.booleans()):
            held = content(shape, *_inside(tank, shape))
            least, most = (1.0 - LESS) * held, min((1.0 + MORE) * held, 1.0)
            if most > 0.5e-3 and least < 1.0:
                tank["capacity"] = draw(amounts(_quantity(Tank, "capacity"), low=max(least, 0.5e-3), high=most))
    elif "capacity" not in tank:
        tank["capacity"] = draw(amounts(_quantity(Tank, "capacity")))
    if shape != "lying cylinder":
        tank.pop("lies", None)
    across = tank.get("lies") == "across"
    footprint = {
        "lying cylinder": ("diameter", "length") if across else ("length", "diameter"),
        "standing cylinder": ("diameter", "diameter"),
    }.get(shape or "box", ("length", "width"))
    for key, side in zip(("pickup_from_front", "pickup_from_left"), footprint, strict=True):
        if key in tank and side in tank:
            tank[key] = draw(amounts(_quantity(Tank, key), high=0.99 * read(Tank, side, tank[side])))
    if "out_of_reach" in tank and "capacity" in tank:
        most = 0.5 * read(Tank, "capacity", tank["capacity"])
        tank["out_of_reach"] = draw(amounts(_quantity(Tank, "out_of_reach"), high=min(most, 0.1)))
    top = tank.get("diameter" if shape == "lying cylinder" else "height")
    inside = 4.0 if top is None else read(Tank, "height", top)
    tank.pop("pickup", None)
    tank.pop("overflow", None)
    if draw(st.booleans()):
        tank["pickup"] = draw(amounts(_quantity(Tank, "pickup"), high=0.3 * inside))
    if draw(st.booleans()):
        tank["overflow"] = draw(amounts(_quantity(Tank, "overflow"), low=0.5 * inside, high=0.99 * inside))
    return tank


def _inside(tank: Raw, shape: str) -> tuple[float, dict[str, float]]:
    """The height of a tank and its sides, in SI."""
    sides = {side: read(Tank, side, tank[side]) for side in SIDES[shape]}
    return sides["diameter" if shape == "lying cylinder" else "height"], sides


def _quantity(part: type[Part], key: str) -> Quantity:
    found = note(part, key).quantity
    assert found is not None
    return found


@st.composite
def curves(draw: Draw) -> list[list[str]]:
    """A measured curve: flow rises, pressure falls."""
    count = draw(st.integers(2, 6))
    flows = [draw(st.sampled_from((0.0, 1e-5)))]
    for _ in range(count - 1):
        flows.append(flows[-1] + draw(st.floats(1e-5, 6e-5)))
    falls = [draw(st.floats(2e4, 9e4)) for _ in range(count - 1)]
    rises = [sum(falls[place:]) for place in range(count)]
    us = draw(st.booleans())
    return [[FLOW.written(q, us), PRESSURE.written(p, us)] for q, p in zip(flows, rises, strict=True)]


@cache
def _any_pump(kind: str) -> st.SearchStrategy[Raw]:
    given = fields(Pump, kind=st.just(kind), curve=curves(), tank=st.just("fresh"))
    own = {key: given[key] for key in given if kind in BELONGS.get(key, (kind,))}
    return some(own, () if kind == "diaphragm" else ("kind",))


@st.composite
def pumps(draw: Draw, fresh: tuple[str, ...] = ("fresh",), kinds: tuple[str, ...] = get_args(Kind)) -> Raw:
    """A pump of any kind, with any of the fields that belong to its kind."""
    pump = draw(_any_pump(draw(st.sampled_from(kinds))))
    if "tank" in pump:
        pump["tank"] = draw(st.sampled_from(fresh))
    if "curve" in pump and "curve_volts" not in pump:
        pump["curve_volts"] = draw(st.sampled_from(("12 V", "13.6 V", "24 V")))
    if "cut_in" in pump:
        pump["cut_in"] = draw(amounts(_quantity(Pump, "cut_in"), high=2.0e5))
    if "cut_out" in pump:
        pump["cut_out"] = draw(amounts(_quantity(Pump, "cut_out"), low=2.5e5))
    most = 0.95 * PRESSURE.read(pump["curve"][0][1]) if "curve" in pump else 2.4e5
    for key in ("by_pass", "holds"):
        if key in pump:
            pump[key] = draw(amounts(_quantity(Pump, key), high=min(max(most, 0.2e5), 2.4e5)))
            if most < 0.21e5:
                del pump[key]
    return pump


@cache
def mains() -> st.SearchStrategy[Raw]:
    lowest, highest = (_quantity(Mains, key) for key in ("lowest", "highest"))
    return some(fields(Mains, lowest=amounts(lowest, high=1.9e5), highest=amounts(highest, low=2.1e5)))


@cache
def own_fittings() -> st.SearchStrategy[Raw]:
    given = fields(Fitting, source=texts(200))
    return some({key: given[key] for key in ("k", "source")}, ("k",)) | some(
        {key: given[key] for key in ("loss", "loss_at", "source")}, ("loss", "loss_at")
    )


@cache
def _any_run(pieces: tuple[str, ...]) -> st.SearchStrategy[Raw]:
    pieces = (*pieces, *sorted(fittings()))
    given = fields(
        Run,
        **{"from": st.none(), "to": st.none()},
        size=st.sampled_from(sorted(pipes())),
        material=st.sampled_from(sorted(materials())),
        fittings=st.dictionaries(st.sampled_from(pieces), st.integers(0, 60), max_size=4),
        lowest=amounts(_quantity(Run, "lowest"), high=0.5),
        highest=amounts(_quantity(Run, "highest"), low=0.6),
    )
    del given["run_back"]  # it has runs of its own
    return some(given, ("from", "to"))


@st.composite
def runs(draw: Draw, start: str, end: str, pieces: tuple[str, ...] = ()) -> Raw:
    run = draw(_any_run(pieces)) | {"from": start, "to": end}
    if "size" in run and "bore" in run:
        del run[draw(st.sampled_from(("size", "bore")))]
    bore = pipes()[run["size"]].bore if "size" in run else read(Run, "bore", run["bore"]) if "bore" in run else None
    if bore is not None and "roughness" in run:
        run["roughness"] = draw(amounts(_quantity(Run, "roughness"), high=min(0.1 * bore, 5e-3)))
    if "size" in run:
        run.pop("material", None)
    if "bore" in run and "outside" in run:
        run["outside"] = draw(amounts(_quantity(Run, "outside"), low=read(Run, "bore", run["bore"]) + 1e-3))
    return run


@cache
def tees() -> st.SearchStrategy[Raw]:
    return some(fields(Tee))


@cache
def mixers() -> st.SearchStrategy[Raw]:
    given = fields(Mixer)
    hand = some({**{key: given[key] for key in (*"xyz", "joint")}, "kind": st.just("hand")})
    return hand | some({**given, "kind": st.just("thermostatic")}, ("kind",))


@st.composite
def taps(draw: Draw) -> Raw:
    """One outlet: of the table, measured, or not decided."""
    outlet = draw(some(fields(Outlet, type=st.sampled_from(sorted(outlets())))))
    if "type" in outlet:
        outlet.pop("flow", None)
        outlet.pop("at", None)
    elif ("flow" in outlet) != ("at" in outlet):
        outlet |= {"flow": "6 L/min", "at": "15 psi"}
    return outlet


def accumulators(at: str) -> st.SearchStrategy[Raw]:
    precharge = amounts(_quantity(Accumulator, "precharge"), high=1.9e5)  # below every cut-out here
    return some(fields(Accumulator, at=st.just(at), precharge=precharge), ("at", "volume"))


@cache
def heaters() -> st.SearchStrategy[Raw]:
    set_point = amounts(_quantity(Heater, "set_point"), high=273.15 + 75)  # does not boil at 6000 m
    return some(fields(Heater, set_point=set_point), ("volume",))


@cache
def batteries() -> st.SearchStrategy[Raw]:
    return some(fields(Battery), ("volts", "charge", "usable"))


@cache
def inverters() -> st.SearchStrategy[Raw]:
    return some(fields(Inverter))


@cache
def days() -> st.SearchStrategy[Raw]:
    hours = {name: amounts(_quantity(Day, name), high=5 * 3600.0) for name in ("driving", "shore", "away", "unheated")}
    return some(hours)


@cache
def cables(to: str) -> st.SearchStrategy[Raw]:
    every = fields(Cable, to=st.just(to))
    beside = ("insulation", "engine_space", "fuse")
    return st.sampled_from(("section", "awg")).flatmap(
        lambda size: some({name: every[name] for name in ("to", "length", size, *beside)}, ("to", "length", size))
    )


@cache
def frosts() -> st.SearchStrategy[Raw]:
    return some(fields(Frost))


@cache
def bodies() -> st.SearchStrategy[Raw]:
    """A van's body, with two readings that fall toward the outside."""
    inside, outside = _quantity(Readings, "first"), _quantity(Readings, "outside")
    falling = {
        "first": amounts(inside, low=273.15 + 11.0),
        "later": amounts(inside, low=273.15 + 1.0, high=273.15 + 10.0),
        "outside": amounts(outside, high=273.15),
    }
    given = fields(Body, measured=some(fields(Readings, **falling), ("first", "later", "after", "outside")))
    return some(given)


@cache
def vehicles() -> st.SearchStrategy[Raw]:
    given = fields(Vehicle)
    total = {**given, "permitted_total": amounts(_quantity(Vehicle, "permitted_total"), high=1500.0)}
    axles = {key: amounts(_quantity(Vehicle, key), low=800.0) for key in ("permitted_front", "permitted_rear")}
    outside = {"length": 10.0, "width": 2.6, "height": 1.5}  # around all wheels and floors here
    around = {key: amounts(_quantity(Vehicle, key), low=low) for key, low in outside.items()}
    return some(total | axles | around)


@cache
def loads() -> st.SearchStrategy[Raw]:
    return some(fields(Load), ("mass", "x"))


def pads(tank: str) -> st.SearchStrategy[Raw]:
    return some(fields(Pad, tank=st.just(tank)), ("tank", "power"))


@st.composite
def uses(draw: Draw, raw: Raw) -> Raw:
    """Own uses: whole ones, and with ready habits also changes of theirs."""
    fresh = [name for name, tank in raw["tanks"].items() if tank["holds"] == "fresh" and "refills" not in tank]
    waste = [name for name, tank in raw["tanks"].items() if tank["holds"] != "fresh"]
    ways: Fields = {"to": st.sampled_from(["outside", *HOLDS[1:], *waste])}
    ways |= {"tank": st.sampled_from(fresh)} if fresh else {}
    ways |= {"outlet": st.sampled_from(sorted(raw["outlets"]))} if raw.get("outlets") else {}
    missing = {key: st.none() for key in ("to", "tank", "outlet") if key not in ways}
    given = fields(Use, **ways, **missing)
    given = {key: strategy for key, strategy in given.items() if key not in missing}
    habit = raw["household"].get("habits")
    ready = sorted(habits(habit)) if habit else []
    found: Raw = {}
    for name in draw(st.lists(st.sampled_from(ready), max_size=3, unique=True)) if ready else ():
        use = draw(some({key: given[key] for key in given if key not in ("volume", "flow", "duration")}))
        row = habits(habit or "")[name]
        found[name] = use | draw(some({key: given[key] for key in ("volume",) if key in row}))
    for name in draw(st.lists(names(), max_size=2, unique=True)):
        if name not in ready:
            amount = draw(st.sampled_from((("volume",), ("flow", "duration"))))
            out = {"volume", "flow", "duration"} - set(amount)
            found[name] = draw(some({k: v for k, v in given.items() if k not in out}, ("a_day", *amount)))
    return found


# --- the way of the water ------------------------------------------------------------------------------


_DRAWS = tuple(kind for kind in get_args(Kind) if kind != "submersible")
"""Pumps that draw through a suction hose."""


@st.composite
def supplies(draw: Draw, raw: Raw) -> None:
    """Add the way from the fresh water to the outlets: by a pump or by gravity, with or without a hot leg."""
    fresh = [name for name, tank in raw["tanks"].items() if tank["holds"] == "fresh" and "refills" not in tank]
    taken = {name for table in ("tanks",) for name in raw[table]}

    def named(table: str, entry: Raw) -> str:
        name: str = draw(names().filter(lambda name: name not in taken))
        taken.add(name)
        raw.setdefault(table, {})[name] = entry
        return name

    own = tuple(raw.get("fittings", ()))

    def run(start: str, end: str) -> None:
        table = raw.setdefault("runs", {})
        name = draw(names().filter(lambda name: name not in table))
        table[name] = draw(runs(start, end, own))

    source = draw(st.sampled_from(fresh))
    if draw(st.integers(0, 3)):
        within = draw(st.booleans())
        pump = named("pumps", draw(pumps(tuple(fresh), ("submersible",) if within else _DRAWS)))
        if not within:
            if len(fresh) > 1 and draw(st.booleans()):  # two tanks joined before the pump
                tee = named("tees", draw(tees()))
                for tank in (source, next(name for name in fresh if name != source)):
                    run(tank, tee)
                source = tee
            run(source, pump)
        source = pump
    if not draw(st.integers(0, 2)):  # the water of a campsite, instead of tank and pump
        tee = named("tees", draw(tees()))
        run(source, tee)
        run(named("mains", draw(mains())), tee)
        source = tee
    hot = None
    if draw(st.booleans()):
        tee = named("tees", draw(tees()))
        run(source, tee)
        hot = named("heaters", draw(heaters()))
        run(tee, hot)
        source = tee
    for _ in range(draw(st.integers(1, 3))):
        outlet = named("outlets", draw(taps()))
        end = outlet
        mixes = hot is not None and draw(st.booleans())
        if mixes and draw(st.booleans()):  # a mixing tap, else the outlet mixes by itself
            end = named("mixers", draw(mixers()))
            run(end, outlet)
        if draw(st.booleans()):
            tee = named("tees", draw(tees()))
            run(source, tee)
            source = tee
        run(source, end)
        if mixes and hot is not None:
            run(hot, end)
    if hot is not None and draw(st.booleans()):
        tee = named("tees", draw(tees()))
        run(hot, tee)
        run(tee, draw(st.sampled_from(fresh)))
        raw["runs"][list(raw["runs"])[-1]]["run_back"] = True
    if hot is not None and not draw(st.integers(0, 3)):  # a ring with a pump of its own
        tee, small = named("tees", draw(tees())), named("pumps", draw(pumps(tuple(fresh), _DRAWS)))
        run(hot, tee)
        run(tee, small)
        run(small, hot)
    for _ in range(draw(st.integers(0, 2))):
        named("accumulators", draw(accumulators(draw(st.sampled_from([source, *raw.get("pumps", ())])))))


@st.composite
def vessels(draw: Draw) -> Raw:
    """Tanks: several of each kind, or none; cans that refill a tank."""
    found: Raw = {}
    for holds in HOLDS:
        for name in draw(st.lists(names(), max_size=2, unique=True)):
            if name not in found:
                found[name] = draw(tanks(holds))
    fresh = [name for name, tank in found.items() if tank["holds"] == "fresh"]
    for name in draw(st.lists(names(), max_size=2, unique=True)) if fresh else ():
        if name not in found:
            found[name] = draw(tanks("fresh")) | {"refills": draw(st.sampled_from(fresh))}
    if draw(st.booleans()) and holds_none(found, "grey"):
        found["grey"] = draw(tanks("grey"))  # the name that habits know
    return found


def holds_none(found: Raw, holds: str) -> bool:
    return all(tank["holds"] != holds for tank in found.values())


@cache
def agreements() -> st.SearchStrategy[Raw]:
    harmless = st.sampled_from(("stay.days", "outlets.tap.flow"))
    return some(
        fields(Agreed, finding=harmless, on=texts(40), words=texts(400), situation=texts(80)), ("finding", "on")
    )


@cache
def measurements() -> st.SearchStrategy[Raw]:
    """One value of a number that every plan has."""
    own = {
        "number": st.just("site.cold_water"),
        "value": _read_from_model(Site, frozenset())["cold_water"],
        "on": st.dates(dt.date(2020, 1, 1), dt.date(2025, 1, 1)).map(str),
        "uncertainty": amounts(SHARE),
        "situation": st.just(""),
        **dict.fromkeys(("instrument", "by"), texts(80)),
        "note": texts(400),
    }
    return some(fields(Measured, **own), ("number", "value", "on", "instrument"))


@cache
def revisions() -> st.SearchStrategy[Raw]:
    long = {field: texts(80) for field in ("by", "checked", "signed")}
    return some(fields(Revision, on=texts(40), what=texts(400), fingerprint=texts(40), **long), ("on",))


@st.composite
def plans(draw: Draw) -> Raw:
    """A valid plan as nested tables of texts, of every shape, from next to nothing to all there is."""
    raw: Raw = {"van": draw(vans()), "household": draw(households()), "tanks": draw(vessels())}
    if draw(st.booleans()):
        raw["fittings"] = {name: draw(own_fittings()) for name in draw(st.lists(names(), max_size=2, unique=True))}
    if any(tank["holds"] == "fresh" for tank in raw["tanks"].values()) and draw(st.integers(0, 3)):
        draw(supplies(raw))
    for table, strategy in (
        ("site", sites()),
        ("frost", frosts()),
        ("body", bodies()),
        ("water", some(fields(Water, drained=st.sampled_from((False, False, True))))),
        ("battery", batteries()),
        ("inverter", inverters()),
        ("converter", some(fields(Converter), ("volts",))),
        ("day", days()),
        ("sun", some(fields(Sun), ("panels", "full_sun"))),
        ("alternator", some(fields(Alternator), ("current",))),
        ("shore", some(fields(Shore), ("limit", "volts"))),
        ("appliances", st.dictionaries(names(), some(fields(Appliance), ("power", "hours")), max_size=2)),
        ("vehicle", vehicles()),
        ("loads", st.dictionaries(names(), loads(), max_size=3)),
        ("uses", uses(raw)),
        ("agreed", st.dictionaries(names(), agreements(), max_size=2)),
        ("measured", st.dictionaries(names(), measurements(), max_size=1)),
        ("revisions", st.dictionaries(names(), revisions(), max_size=2)),
    ):
        if draw(st.booleans()):
            raw[table] = draw(strategy)
    fed = [*raw.get("pumps", ()), *raw.get("heaters", ()), "inverter"]
    for to in draw(st.lists(st.sampled_from(fed), max_size=2, unique=True)):
        raw.setdefault("cables", {})[f"cable {len(raw.get('cables', ()))}"] = draw(cables(to))
    for tank in draw(st.lists(st.sampled_from(sorted(raw["tanks"])), max_size=2)) if raw["tanks"] else ():
        raw.setdefault("pads", {})[f"pad {len(raw['pads']) if 'pads' in raw else 0}"] = draw(pads(tank))
    _agree(raw)
    if "without" in raw["van"]:
        tables = {"battery": "battery", "pump": "pumps", "outlets": "outlets"}
        raw["van"]["without"] = [what for what, table in tables.items() if not raw.get(table)]
    kept = {table: entries for table, entries in raw.items() if entries or draw(st.booleans())}
    return {table: kept[table] for table in draw(st.permutations(sorted(kept)))}


def _agree(raw: Raw) -> None:
    """An element is made for the volts that it gets; a valve's loss is counted once."""
    for run in raw.get("runs", {}).values():
        if "kv" in raw.get("mixers", {}).get(run["to"], {}):
            run.get("fittings", {}).pop("thermostatic mixing valve", None)
    for heater in raw.get("heaters", {}).values():
        supply = raw.get(heater.get("source", "inverter"), {})
        if "volts" in heater and isinstance(supply, Mapping) and "volts" in supply:
            heater["volts"] = supply["volts"]
            if supply.get("series", 1) > 1:
                del heater["volts"]
                continue
            if not 6 <= read(Heater, "volts", heater["volts"]) <= 260:
                del heater["volts"]


# --- plans that are broken in a known way --------------------------------------------------------------


def leaves(raw: Any, way: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], Any]]:
    """Ways and values of nested tables; a list counts as one value."""
    if isinstance(raw, Mapping):
        for name, value in raw.items():
            yield from leaves(value, (*way, name))
    else:
        yield way, raw


def parts(raw: Raw, way: tuple[str, ...] = ()) -> Iterator[tuple[str, ...]]:
    """Ways to every piece of a plan that is a part of its own."""
    if part_of(Plan, way) is not None:
        yield way
    for name, value in raw.items():
        if isinstance(value, Mapping):
            yield from parts(dict(value), (*way, name))


def holder(raw: Raw, way: tuple[str, ...]) -> Raw:
    for name in way[:-1]:
        raw = raw[name]
    return raw


def measured(raw: Raw, unit: bool = True) -> list[tuple[tuple[str, ...], Quantity]]:
    """Ways to texts of quantities; with ``unit`` only of those that cannot do without a unit."""
    found = []
    for way, value in leaves(raw):
        if isinstance(value, str) and part_of(Plan, way[:-1]) is not None:
            quantity = note(Plan, ".".join(way)).quantity
            if quantity is not None and not (unit and "" in quantity.spellings):
                found.append((way, quantity))
    return found


def _replaced(draw: Draw, raw: Raw, values: Callable[[Quantity], list[Any]], unit: bool = True) -> str | None:
    found = measured(raw, unit)
    if not found:
        return None
    way, quantity = draw(st.sampled_from(found))
    holder(raw, way)[way[-1]] = draw(st.sampled_from(values(quantity)))
    return ".".join(way)


def no_unit(draw: Draw, raw: Raw) -> str | None:
    return _replaced(draw, raw, lambda _: ["7", 7, 7.5, "1e3"])


def wrong_unit(draw: Draw, raw: Raw) -> str | None:
    return _replaced(draw, raw, lambda _: ["7 furlong", "7 L L", "7 ?", "7 \u001b[31m", "7 cord", "7 m m"])


def no_number(draw: Draw, raw: Raw) -> str | None:
    slips = [
        "",
        " ",
        "nan L",
        "inf L",
        "9**9**9 L",
        "1/0 L",
        "7,5 L",
        "0x10 L",
        "-",
        "9" * 400,
        float("nan"),
        "1e999 m",
    ]
    return _replaced(draw, raw, lambda _: [*slips, float("inf"), -float("inf"), 10**400], unit=False)


def no_text(draw: Draw, raw: Raw) -> str | None:
    return _replaced(draw, raw, lambda _: [True, [], ["7 L"], {}, {"value": "7 L"}], unit=False)


def unbelievable(draw: Draw, raw: Raw) -> str | None:
    def beyond(quantity: Quantity) -> list[Any]:
        reach = max(abs(quantity.low), abs(quantity.high), 1e-6)
        return [quantity.written(sign * 1e4 * reach) for sign in (1, -1)]

    return _replaced(draw, raw, beyond, unit=False)


def unknown_key(draw: Draw, raw: Raw) -> str:
    way = draw(st.sampled_from([(), *parts(raw)]))
    known = known_keys(part_of(Plan, way) or Plan)
    key = draw(st.sampled_from(["zonk", "a b", "", "水", "__class__", *(f"{name}x" for name in known)]))
    place = holder(raw, (*way, ""))
    place[key] = draw(st.sampled_from(["7 L", 1, [], True]))
    return ".".join((*way, key))


def misspelt_key(draw: Draw, raw: Raw) -> str | None:
    found = [way for way, _ in leaves(raw) if part_of(Plan, way[:-1]) is not None]
    way = draw(st.sampled_from(found))
    wrong = way[-1] + "x"
    if nearest(wrong, known_keys(part_of(Plan, way[:-1]) or Plan)) != way[-1]:
        return None
    place = holder(raw, way)
    place[wrong] = place.pop(way[-1])
    return ".".join((*way[:-1], wrong))


def missing_key(draw: Draw, raw: Raw) -> str:
    found = [("van",), ("household",), ("van", "name"), ("household", "people")]
    for way in parts(raw):
        part = part_of(Plan, way)
        assert part is not None
        needed = [field.alias or name for name, field in part.model_fields.items() if field.is_required()]
        found += [(*way, key) for key in needed if way[:1] != ("uses",)]
    way = draw(st.sampled_from(found))
    del holder(raw, way)[way[-1]]
    return ".".join(way)


def no_name(draw: Draw, raw: Raw) -> str:
    table = draw(st.sampled_from(("tanks", "tees", "outlets", "mixers", "pumps")))
    name = draw(
        st.sampled_from(("a.b", "", " a", "-a", "a\x07", "a\nb", "a/b", "a" * 41, "a]", 'a"', "a\u2028b", "<b>"))
    )
    raw.setdefault(table, {})[name] = {"holds": "grey", "capacity": "9 L"} if table == "tanks" else {}
    return f"{table}.{''.join(letter if letter.isprintable() else '?' for letter in name)}"


def no_table(draw: Draw, raw: Raw) -> str:
    way = draw(st.sampled_from([way for way in parts(raw) if way]))
    holder(raw, way)[way[-1]] = draw(st.sampled_from(("7 L", 7, [], [{}], False)))
    return ".".join(way)


def two_of_a_name(draw: Draw, raw: Raw) -> str | None:
    if not raw.get("tanks"):
        return None
    name = draw(st.sampled_from(sorted(raw["tanks"])))
    table = draw(st.sampled_from(("tees", "outlets", "mixers", "pumps")))
    raw.setdefault(table, {})[name] = {}
    return f"{table}.{name}"


NO_NAMES = ("", "\u001b[2J")
"""What no place can be called."""

UNWRITTEN = ("nowhere at all", "水水水水")
"""What a place could be called, and none is."""

POINTING = {"runs": ("from", "to"), "accumulators": ("at",), "pads": ("tank",)}
"""Fields that point at a place, by their table."""


def _lost(draw: Draw, raw: Raw, table: str, keys: tuple[str, ...], names: Sequence[str]) -> str | None:
    if not raw.get(table):
        return None
    name, key = draw(st.sampled_from(sorted(raw[table]))), draw(st.sampled_from(keys))
    raw[table][name][key] = draw(st.sampled_from(names))
    return f"{table}.{name}.{key}"


def awaited_place(draw: Draw, raw: Raw) -> str | None:
    """Makes a run, a pad or an accumulator point at a place that is not written yet: no break, but half a plan."""
    tables = [key for key in POINTING if raw.get(key)]
    if not tables:
        return None
    table = draw(st.sampled_from(tables))
    return _lost(draw, raw, table, POINTING[table], UNWRITTEN)


def lost_place(draw: Draw, raw: Raw) -> str | None:
    return _lost(draw, raw, "runs", POINTING["runs"], NO_NAMES)


def lost_stock(draw: Draw, raw: Raw) -> str | None:
    table, key = draw(st.sampled_from((("runs", "size"), ("outlets", "type"), ("tanks", "material"))))
    for entry in raw.get(table, {}).values():
        for other in {"size": ("bore", "material"), "type": ("flow", "at")}.get(key, ()):
            entry.pop(other, None)
    return _lost(draw, raw, table, (key,), (*NO_NAMES, *UNWRITTEN))


def lost_piece(draw: Draw, raw: Raw) -> str | None:
    return next(
        (lost for table in ("accumulators", "pads") if (lost := _lost(draw, raw, table, POINTING[table], NO_NAMES))),
        None,
    )


def lost_fitting(draw: Draw, raw: Raw) -> str | None:
    if not raw.get("runs"):
        return None
    name = draw(st.sampled_from(sorted(raw["runs"])))
    raw["runs"][name].setdefault("fittings", {})["no such thing"] = 1
    return f"runs.{name}.fittings.no such thing"


def refills_itself(draw: Draw, raw: Raw) -> str | None:
    fresh = [name for name, tank in raw["tanks"].items() if tank["holds"] == "fresh"] if raw.get("tanks") else []
    if not fresh:
        return None
    name = draw(st.sampled_from(fresh))
    raw["tanks"][name]["refills"] = name
    return f"tanks.{name}.refills"


def no_capacity(draw: Draw, raw: Raw) -> str:
    raw.setdefault("tanks", {})["bare"] = {"holds": draw(st.sampled_from(HOLDS))}
    return "tanks.bare.capacity"


def crossed_switch(draw: Draw, raw: Raw) -> str:
    raw.setdefault("pumps", {})["crossed"] = {"cut_in": draw(st.sampled_from(("3 bar", "2 bar"))), "cut_out": "2 bar"}
    return "pumps.crossed.cut_in"


def no_curve_volts(draw: Draw, raw: Raw) -> str:
    raw.setdefault("pumps", {})["bare"] = {"curve": draw(curves())}
    return "pumps.bare.curve_volts"


def two_ways_to_say(draw: Draw, raw: Raw) -> str:
    raw.setdefault("uses", {})["both"] = {"a_day": "1 a day", "volume": "2 L"} | draw(
        st.sampled_from(({"flow": "2 L/min"}, {"duration": "1 min"}, {"flow": "2 L/min", "duration": "9 s"}))
    )
    return "uses.both.volume"


def no_count(draw: Draw, raw: Raw) -> str:
    raw["household"]["people"] = draw(st.sampled_from((0, -1, 13, 2.5, "2", True, [], float("nan"), 10**30)))
    return "household.people"


def no_choice(draw: Draw, raw: Raw) -> str:
    way, value = draw(
        st.sampled_from(
            (
                (("van", "units"), "US"),
                (("van", "units"), 5),
                (("household", "habits"), HABITS[0].upper()),
                (("household", "habits"), {}),
            )
        )
    )
    holder(raw, way)[way[-1]] = value
    return ".".join(way)


def turned_suction(draw: Draw, raw: Raw) -> str | None:
    drawing = [name for name, run in raw.get("runs", {}).items() if run["from"] in raw["tanks"]]
    if not drawing:
        return None
    name = draw(st.sampled_from(drawing))
    run = raw["runs"][name]
    run["from"], run["to"] = run["to"], run["from"]
    return f"runs.{name}.to"


BREAKS: tuple[Callable[[Draw, Raw], str | None], ...] = (
    no_unit,
    wrong_unit,
    no_number,
    no_text,
    unbelievable,
    unknown_key,
    misspelt_key,
    missing_key,
    no_name,
    no_table,
    two_of_a_name,
    lost_place,
    lost_stock,
    lost_piece,
    lost_fitting,
    refills_itself,
    no_capacity,
    crossed_switch,
    no_curve_volts,
    two_ways_to_say,
    no_count,
    no_choice,
    turned_suction,
)
"""Every known way to break a plan."""


@st.composite
def half_plans(draw: Draw) -> tuple[Raw, str]:
    """A plan that points at a place that is not written yet, and the address of what points there."""
    raw = copy.deepcopy(draw(plans().filter(lambda raw: any(raw.get(table) for table in POINTING))))
    address = awaited_place(draw, raw)
    assert address is not None
    return raw, address


@st.composite
def bad_plans(draw: Draw, ways: tuple[Callable[[Draw, Raw], str | None], ...] = BREAKS) -> tuple[Raw, str]:
    """A plan that is broken in one way, and the address at which that must be reported."""
    raw = copy.deepcopy(draw(plans()))
    broken = draw(st.sampled_from(ways))(draw, raw)
    return (raw, broken) if broken is not None else (raw, no_capacity(draw, raw))


# --- the text of a file --------------------------------------------------------------------------------


def toml_text(value: Any) -> str:
    """A value as TOML writes it."""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, str):
        return '"' + "".join(_escaped(letter) for letter in value) + '"'
    if isinstance(value, Mapping):
        return "{" + ", ".join(f"{toml_text(str(key))} = {toml_text(below)}" for key, below in value.items()) + "}"
    if isinstance(value, list):
        return f"[{', '.join(toml_text(below) for below in value)}]"
    return str(value)


def _escaped(letter: str) -> str:
    if letter in '"\\':
        return f"\\{letter}"
    return letter if ord(letter) >= 32 and ord(letter) != 127 else f"\\u{ord(letter):04x}"


def toml_file(raw: Raw, way: tuple[str, ...] = ()) -> str:
    """Nested tables as the text of a file, a header a table."""
    lines = [f"[{'.'.join(toml_text(name) for name in way)}]\n"] if way else []
    lines += [f"{toml_text(key)} = {toml_text(v)}\n" for key, v in raw.items() if not isinstance(v, dict)]
    below = [toml_file(value, (*way, key)) for key, value in raw.items() if isinstance(value, dict)]
    return "".join(lines + below)
