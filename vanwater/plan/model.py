"""The plan of one van's water: the whole of what the builder decides."""

from __future__ import annotations

import warnings
from collections.abc import Callable, Iterator, Mapping
from typing import Annotated, Any, Self, TypeVar

from pydantic import Field, PrivateAttr

from vanwater.plan import address as addresses
from vanwater.plan.address import known_keys
from vanwater.plan.awaited import NAME, Awaited, without
from vanwater.plan.change import CappedWarning, as_written, capped, misplaced, put
from vanwater.plan.checks import references
from vanwater.plan.day import Day
from vanwater.plan.electricity import Alternator, Appliance, Battery, Cable, Converter, Inverter, Shore, Sun
from vanwater.plan.energy import Heater
from vanwater.plan.habits import meant, with_habits
from vanwater.plan.household import Agreed, Household, Revision, Site, Use, Van
from vanwater.plan.measured import Measured
from vanwater.plan.overlay import Overlay
from vanwater.plan.part import Part, asked
from vanwater.plan.plausibility import contradictions, done_without
from vanwater.plan.problems import PlanError, shown
from vanwater.plan.pump import Mains, Pump
from vanwater.plan.raw import copied
from vanwater.plan.situations import Situation, impossible, overlays
from vanwater.plan.stock import SINGLE, STOCKED, Shelf, StockPart, bring, of_stock, with_stock
from vanwater.plan.supply import Accumulator, Fitting, Mixer, Outlet, Run, Tee, Together
from vanwater.plan.tanks import Tank
from vanwater.plan.validation import validated
from vanwater.plan.vehicle import Load, Vehicle
from vanwater.plan.winter import Body, Frost, Pad, Water
from vanwater.quantities import errors_in

__all__ = ["Plan"]

V = TypeVar("V")
Name = Annotated[str, Field(pattern=NAME)]


class Plan(Part):
    """A van's water as planned; what is missing is not decided yet.

    Every value has one address, from file to slider: ``plan.changed({"tanks.fresh.capacity": "90 L"})``.
    """

    van: Van = asked("the plan's title block", ...)
    household: Household = asked("who lives in it", ...)
    uses: dict[Name, Use] = asked("what water is used for", {})
    site: Site = asked("where the van stands", Site())
    tanks: dict[Name, Tank] = asked("fresh, grey and toilet tanks", {})
    pumps: dict[Name, Pump] = asked("pumps", {})
    mains: dict[Name, Mains] = asked("inlets for the water of a campsite", {})
    runs: dict[Name, Run] = asked("runs of hose and pipe", {})
    fittings: dict[Name, Fitting] = asked("fittings of one's own", {})
    accumulators: dict[Name, Accumulator] = asked("accumulators", {})
    heaters: dict[Name, Heater] = asked("water heaters", {})
    tees: dict[Name, Tee] = asked("tees and manifolds, where runs part or meet", {})
    mixers: dict[Name, Mixer] = asked("mixing taps", {})
    outlets: dict[Name, Outlet] = asked("where the water leaves", {})
    together: dict[Name, Together] = asked("outlets that are open together", {})
    frost: Frost = asked("the cold that it is planned for", Frost())
    water: Water = asked("its water as a whole", Water())
    body: Body = asked("the van's body: how fast its room cools without heat", Body())
    pads: dict[Name, Pad] = asked("heating pads on tanks", {})
    day: Day = asked("how the hours of a day are spent", Day())
    battery: Battery | None = asked("leisure battery")
    inverter: Inverter | None = asked("inverter")
    converter: Converter | None = asked("what makes other volts of the battery's")
    sun: Sun | None = asked("panels on the roof")
    alternator: Alternator | None = asked("what charges on the road")
    shore: Shore | None = asked("the socket and the charger on it")
    appliances: dict[Name, Appliance] = asked("what else takes power, by name", {})
    cables: dict[Name, Cable] = asked("cables from the battery", {})
    vehicle: Vehicle | None = asked("the vehicle: axles and what they may carry")
    loads: dict[Name, Load] = asked("people, luggage and other loads", {})
    situations: dict[Name, Situation] = asked("when the van is used otherwise: values that differ then", {})
    agreed: dict[Name, Agreed] = asked("what falls short and was agreed so with the customer", {})
    measured: dict[Name, Measured] = asked("what was measured on the van that was built", {})
    revisions: dict[Name, Revision] = asked("revisions of the plan, the newest last", {})
    shelf: str | None = asked("file of the builder's own parts, beside the plan")

    _shelf: Shelf = PrivateAttr(default_factory=Shelf)
    _own: dict[str, Any] = PrivateAttr(default_factory=dict)
    _overlays: dict[str, Overlay] = PrivateAttr(default_factory=dict)
    _situation: str = PrivateAttr(default="")
    _awaited: tuple[Awaited, ...] = PrivateAttr(default=())
    _kept: dict[str, Any] = PrivateAttr(default_factory=dict)
    _kept_alone: dict[str, Any] = PrivateAttr(default_factory=dict)
    _known: dict[str, Any] = PrivateAttr(default_factory=dict)  # a plan never changes, so a value is looked up once

    def __eq__(self, other: object) -> bool:
        """Whether two plans decide the same, however it is written."""
        return type(other) is type(self) and self.__dict__ == other.__dict__

    __hash__ = None  # type: ignore[assignment]

    def __repr_args__(self) -> Iterator[tuple[str, object]]:
        """What a short repr shows (pydantic and rich ask for it): its title, and how much of each there is."""
        yield "name", self.van.name
        yield "revision", self.van.revision
        for table in ("tanks", "pumps", "heaters", "outlets", "runs"):
            yield table, len(getattr(self, table))

    @classmethod
    def of(cls, raw: Mapping[str, Any], *, file: bool = False, shelf: Shelf | None = None) -> Self:
        """Make a plan of nested tables, as a TOML file gives them.

        Parameters
        ----------
        raw : mapping
            Tables by name. Values are texts with units; outside a file also numbers in SI.
        file : bool
            Whether the values come from a file, where a bare number for a quantity is refused.
        shelf : Shelf, optional
            The builder's own parts, if the plan names a file of them.

        Returns
        -------
        Plan
            The plan.

        Raises
        ------
        PlanError
            With every problem that could be found, not only the first.
        """
        with errors_in(_written_in_us(raw)):
            plan = cls._of(raw, file, shelf or Shelf())
            problems = list(impossible(plan))
        if problems:
            raise PlanError(problems)
        return plan

    @classmethod
    def _of(cls, raw: Mapping[str, Any], file: bool, shelf: Shelf) -> Self:
        own = copied(dict(raw))
        filled, no_stock = with_stock(own, shelf)
        filled = with_habits(filled, known_keys(cls))
        problems, awaited = references(filled, known_keys(cls))
        problems = [*no_stock, *problems]
        parts = without(filled, awaited)
        plan, of_parts = validated(cls, parts, lambda: cls.model_validate(parts, context={"file": file}))
        if plan is None or problems:
            raise PlanError(of_stock(problem, own) for problem in (*of_parts, *problems))
        laid, unfit = overlays(cls, own, filled)
        needless = done_without(plan.van, {"pump": plan.pumps, "outlets": plan.outlets, "battery": plan.battery})
        if problems := [*contradictions(plan), *needless, *unfit]:
            raise PlanError(problems)
        plan._own, plan._awaited, plan._shelf, plan._overlays = own, awaited, shelf, laid
        return plan

    def at(self, address: str) -> Any:
        """The value at an address, numbers in SI.

        Parameters
        ----------
        address : str
            Names joined by dots: "uses.shower.volume", "runs.to-shower.fittings.elbow".

        Returns
        -------
        object
            A float in SI, text, number, part, or None where it is not decided.

        Raises
        ------
        KeyError
            When the plan has no such place, with the nearest one that it has.
        """
        known: dict[str, Any] = (self.__pydantic_private__ or {})["_known"]  # by its slot: asked hundreds of times
        try:
            return known[address]
        except KeyError:
            return known.setdefault(address, addresses.value_at(self, address))

    def once(self, key: str, make: Callable[[], V], *, alone: bool = False) -> V:
        """Something made of this plan alone, made once: a plan never changes.

        Parameters
        ----------
        key : str
            What it is, unlike any other.
        make : callable
            Makes it.
        alone : bool
            Whether it hangs on no design that a twin may carry: then all twins hold the one.

        Returns
        -------
        object
            The same object at every call.
        """
        kept: dict[str, Any] = (self.__pydantic_private__ or {})["_kept_alone" if alone else "_kept"]
        if key not in kept:
            kept[key] = make()
        value: V = kept[key]
        return value

    def twin(self) -> Self:
        """The same plan, with nothing yet that was made of it once, but for what is made of it alone."""
        twin = self.model_copy()
        twin._kept = {}
        return twin

    def changed(self, values: Mapping[str, Any], *, si: bool = False) -> Self:
        """The same plan with other values.

        Parameters
        ----------
        values : mapping of str to object
            New values by address, as the file would hold them: texts with their units, counts, names. None takes a
            value or a part out, a table puts a whole part in its place.
        si : bool
            Whether numbers are SI values, as :meth:`at` gives them; else a number is refused where a unit is due.

        Returns
        -------
        Plan
            A new plan; this one stays as it is.

        Raises
        ------
        PlanError
            When a value is not possible, or the plan has no such place: every problem in one go.

        Warns
        -----
        CappedWarning
            When a new value does not count, because another field of the same part is nearer.
        """
        raw, filled = copied(self._own), self.filled()
        problems = []
        for address, value in sorted(values.items(), key=lambda item: str(item[0]).count(".")):  # whole parts first
            problem = misplaced(type(self), filled, address, value)
            if problem is None:
                bring(raw, filled, address)
                for tables in (raw, filled):
                    put(tables, address, value if si else as_written(value))
            else:
                problems.append(problem)
        try:
            with errors_in(_written_in_us(raw)):
                plan = type(self)._of(raw, file=False, shelf=self._shelf)
        except PlanError as error:
            raise PlanError([*problems, *error.problems]) from None
        if problems:
            raise PlanError(problems)
        plan._situation = self._situation
        with errors_in(plan.us):
            whys = list(capped(plan, values))
        for why in whys:
            warnings.warn(why, CappedWarning, stacklevel=2)
        return plan

    @property
    def overlays(self) -> Mapping[str, Overlay]:
        """What each situation changes, by its name."""
        return self._overlays

    def in_situation(self, name: str) -> Self:
        """The plan as it is in one of its situations.

        Parameters
        ----------
        name : str
            As the plan calls it: "ski week".

        Returns
        -------
        Plan
            The same object at every call; it has no situations of its own.

        Raises
        ------
        KeyError
            When the plan has no such situation, with those that it has.
        PlanError
            When a value is not possible there: with every problem.
        """
        if name not in self._overlays:
            known = ", ".join(shown(other) for other in self._overlays) or "none"
            raise KeyError(f"The plan has no situation {shown(name)}; it has: {known}.")
        plan = self._overlays[name].plan(self)
        plan._situation = name
        return plan

    @property
    def situation(self) -> str:
        """The name of the situation that it is the plan of; empty for the plan as it is written."""
        return self._situation

    @property
    def own(self) -> Mapping[str, Any]:
        """The tables as the builder wrote them, before ready habits fill the gaps."""
        return self._own

    @property
    def awaited(self) -> tuple[Awaited, ...]:
        """What the builder wrote that points at places which are not written yet; it does not count until then."""
        return self._awaited

    @property
    def own_shelf(self) -> Shelf:
        """The builder's own parts."""
        return self._shelf

    def stocked(self, table: str, name: str = "") -> StockPart | None:
        """The part of the stock or of the shelf that a part of the plan is, or None.

        Parameters
        ----------
        table, name : str
            Where it stands; no name for a table that stands once.

        Returns
        -------
        StockPart or None
            None where it is the builder's own word throughout.
        """
        own = self._own.get(table, {})
        wanted = (own.get(name, {}) if name else own).get("stock")
        return self._shelf.held(table).get(wanted)

    def parts_of_stock(self) -> Iterator[StockPart]:
        """Every part of the stock or of the shelf that the plan takes by name."""
        for table in STOCKED[:-1]:
            for name in ("",) if table in SINGLE else self._own.get(table, {}):
                if (part := self.stocked(table, name)) is not None:
                    yield part

    def filled(self) -> dict[str, Any]:
        """The tables as the builder wrote them, with what stock and ready habits say below it: a copy."""
        return copied(with_habits(with_stock(self._own, self._shelf)[0], known_keys(type(self))))

    @property
    def us(self) -> bool:
        """Whether US units are shown."""
        return self.van.units == "us"

    def read_in(self, us: bool) -> Plan:
        """The plan for who reads US units, or metric ones; itself where it is in them already."""
        return self if self.us is us else self.changed({"van.units": "us" if us else "metric"})


def _written_in_us(raw: Mapping[str, Any]) -> bool:
    van = meant(raw, "van", known_keys(Plan))
    return isinstance(van, Mapping) and meant(van, "units", known_keys(Van)) == "us"
