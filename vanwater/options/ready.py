"""Ready comparisons: what builders ask of every van, as named sets of other values for this plan."""

from __future__ import annotations

import math
import warnings
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from vanwater.answers.questions import QUESTIONS
from vanwater.options.comparison import Comparison
from vanwater.options.variants import compare
from vanwater.plan.change import CappedWarning
from vanwater.plan.model import Plan
from vanwater.plan.overlay import Overlay
from vanwater.plan.problems import PlanError
from vanwater.plan.tables import fittings, materials, pipes
from vanwater.plan.tanks import Tank, label_of
from vanwater.quantities import BORE, LENGTH, NO_BREAK, ROUGHNESS
from vanwater.system.accumulators import behind
from vanwater.system.path_conditions import asked_first
from vanwater.system.ways import Way, way_to

__all__ = ["Ready", "ready"]

_WHOLE_VAN, _ONE_TAP = "cartridge filter", "small cartridge filter"
_SOURCES = {"inverter": "electricity, by the inverter", "engine": "the engine", "diesel": "diesel"}
_BORES = {False: ("10 mm", "12 mm", "16 mm"), True: ("3/8 in", "1/2 in", "5/8 in")}
_VESSEL = {False: "accumulator 1 L", True: "accumulator 32 fl oz"}
_BELOW = 0.05
"""Room between the van's floor and a tank below it [m] (common practice, from memory)."""

_AS_PLANNED = "all else as planned"


@dataclass(frozen=True, kw_only=True, eq=False)
class Ready:
    """A comparison that is ready to be made.

    Parameters
    ----------
    key : str
        Short name: "filter", "accumulator", "tank", "heat", "hose".
    title : str
        What is compared.
    plan : Plan
        The plan.
    overlays : tuple of Overlay
        The variants; none where the plan cannot carry it.
    assumed : tuple of str
        What else was assumed.
    refused : tuple of str
        Why a variant, or the whole of it, makes no sense for this plan.
    """

    key: str
    title: str
    plan: Plan
    overlays: tuple[Overlay, ...] = ()
    assumed: tuple[str, ...] = ()
    refused: tuple[str, ...] = ()

    def compare(self, keys: Sequence[str] | None = None) -> Comparison:
        """Put the variants beside the plan.

        Raises
        ------
        PlanError
            When the plan cannot carry any; :attr:`refused` says why.
        """
        return compare(self.plan, self.overlays, keys)


@dataclass(frozen=True, kw_only=True)
class _Idea:
    """Variants before it is seen whether they are plans."""

    variants: Mapping[str, Mapping[str, Any]]
    assumed: tuple[str, ...] = ()
    refused: tuple[str, ...] = ()


def ready(plan: Plan) -> Mapping[str, Ready]:
    """The ready comparisons for a plan.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    mapping of str to Ready
        By key, all of them: what makes no sense for this plan has no overlays and says why.
    """
    return {key: _ready(plan, key, title, make(plan)) for key, (title, make) in _READY.items()}


def _ready(plan: Plan, key: str, title: str, idea: _Idea) -> Ready:
    overlays, refused = [], list(idea.refused)
    for name, values in idea.variants.items():
        overlay = Overlay(name, values)
        with warnings.catch_warnings():
            warnings.simplefilter("ignore", CappedWarning)
            try:
                same = overlay.plan(plan) == plan
            except PlanError as error:
                refused.append(f"{name}: {error.problems[0].message}")
                continue
        if same:
            refused.append(f"{name}: that is what is planned.")
        else:
            overlays.append(overlay)
    assumed = (*idea.assumed, _AS_PLANNED) if overlays else ()
    return Ready(key=key, title=title, plan=plan, overlays=tuple(overlays), assumed=assumed, refused=tuple(refused))


def _main_way(plan: Plan) -> Way | None:
    """The way to the outlet that people ask about first."""
    ways = {name: way for name in plan.outlets if not (way := way_to(plan, name)).broken}
    return ways.get(asked_first(ways))


def _filter(plan: Plan) -> _Idea:
    """A cartridge behind the pump for all water, or a small one before one tap; none where the plan has one."""
    main = _main_way(plan)
    if main is None or not main.trunk:
        return _Idea(variants={}, refused=("No run leads from a pump to an outlet yet.",))
    kinds = {key for key, row in fittings().items() if row.kind == "filter"}
    fitted = {
        f"runs.{run}.fittings.{fitting}": count
        for run, said in plan.runs.items()
        for fitting, count in said.fittings.items()
        if fitting in kinds and count
    }
    none = dict.fromkeys(fitted)
    tap = _tap(plan, main.outlet)
    places = {"filter for the whole van": (main.trunk[0], _WHOLE_VAN)}
    if tap is not None:
        way = way_to(plan, tap)
        run = next(iter(reversed(way.cold or way.runs)))
        places[f"filter for the {tap} alone"] = (run, _ONE_TAP)
    variants: dict[str, Mapping[str, Any]] = {}
    for name, (run, fitting) in places.items():
        at = f"runs.{run}.fittings.{fitting}"
        if fitted != {at: 1}:
            variants[name] = {**none, at: 1}
    if fitted:
        variants["no filter"] = none
    where = [f"the {fitting} sits in {run}" for run, fitting in places.values()]
    refused = () if tap is not None else ("There is no tap beside the outlet that everybody asks about first.",)
    return _Idea(variants=variants, assumed=(*where, "cartridges are new"), refused=refused)


def _tap(plan: Plan, main: str) -> str | None:
    """The tap whose water people drink: that of drinking and cooking, else one that is called a tap, else another."""
    used = [plan.uses[use].outlet for use in ("drinking", "cooking") if use in plan.uses]
    others = [name for name in plan.outlets if name != main and not way_to(plan, name).broken]
    called = [name for name in others if "tap" in f"{name} {plan.outlets[name].type}"]
    return next((name for name in (*used, *called, *others) if name in others), None)


def _accumulator(plan: Plan) -> _Idea:
    """None where there is one, one of the common size where there is none."""
    if plan.accumulators:
        return _Idea(variants={"no accumulator": dict.fromkeys(f"accumulators.{name}" for name in plan.accumulators)})
    pump = next((name for name, pump in plan.pumps.items() if pump.kind == "diaphragm"), None)
    run = next((run for run in plan.runs.values() if run.start == pump), None)
    if pump is None:
        return _Idea(variants={}, refused=("No diaphragm pump with a pressure switch is planned; others take none.",))
    if run is None:
        return _Idea(variants={}, refused=("No run leads away from the pump yet, so there is no place for one.",))
    stock = _VESSEL[plan.us]
    part = {"at": run.end, "stock": stock}
    setting = QUESTIONS["pump_starts"].ask(plan).numbers.get(f"pump.{pump}.precharge_setting")
    assumed = [f"it sits at {run.end}"]
    if setting is not None and math.isfinite(setting.likely):
        part["precharge"] = setting.quantity.text(setting.likely, plan.us).replace(NO_BREAK, " ")
        assumed.append(f"its pre-charge is set to {part['precharge']}")
    return _Idea(variants={stock: {"accumulators.accumulator": part}}, assumed=tuple(assumed))


def _tank(plan: Plan) -> _Idea:
    """The fresh tank inside where it hangs under the floor, and the other way round."""
    main = _main_way(plan)
    fresh = [name for name, tank in plan.tanks.items() if tank.holds == "fresh" and tank.refills is None]
    name = main.tank if main is not None and main.tank else next(iter(fresh), None)
    if name is None:
        return _Idea(variants={}, refused=("No fresh tank is planned yet.",))
    tank, at = plan.tanks[name], f"tanks.{name}"
    if tank.z is None and tank.beside is None:
        return _Idea(variants={}, refused=(f"It is not said where the {label_of(name)} stands: {at}.z.",))
    faces = {f"{at}.faces": None} if tank.faces else {}
    if _under(tank):
        inside = {f"{at}.z": LENGTH.written(0.0, plan.us), f"{at}.beside": "room", **faces}
        return _Idea(variants={f"{label_of(name)} inside": inside}, assumed=_kept(plan, name))
    if tank.inside_height is None:
        return _Idea(variants={}, refused=(f"How high the {label_of(name)} is, is not said.",))
    depth = LENGTH.written(-round(tank.inside_height + _BELOW, 2), plan.us)
    under = {f"{at}.z": depth, f"{at}.beside": "outside", **faces}
    told = f"{label_of(name)} under the floor"
    return _Idea(variants={told: under}, assumed=_kept(plan, name))


def _under(tank: Tank) -> bool:
    return tank.beside == "outside" if tank.beside is not None else tank.z is not None and tank.z < 0.0


def _kept(plan: Plan, name: str) -> tuple[str, ...]:
    """What of a tank stays where it is moved, told where it counts."""
    tank = plan.tanks[name]
    told = ["its foam stays, the same on all faces" if tank.foam else "it has no foam"]
    told += ["its pad stays"] * any(pad.tank == name for pad in plan.pads.values())
    return (*told, "its place along and across the van stays")


def _heat(plan: Plan) -> _Idea:
    """The first heater's water heated by electricity, by the engine or by diesel."""
    name = next(iter(plan.heaters), None)
    if name is None:
        return _Idea(variants={}, refused=("No heater is planned.",))
    heater, at = plan.heaters[name], f"heaters.{name}"
    if heater.as_it_flows:
        told = f"The {name} heats as the water flows; a store of another source cannot stand in its place as it is."
        return _Idea(variants={}, refused=(told,))
    refused = ("No inverter is planned.",) if plan.inverter is None and heater.source != "inverter" else ()
    variants = {
        f"heated by {told}": {f"{at}.source": source, f"{at}.volts": None}
        for source, told in _SOURCES.items()
        if source != heater.source and (source != "inverter" or plan.inverter is not None)
    }
    assumed = ("its litres, power, hours and temperature stay", "fuel and what a burner costs stand elsewhere")
    return _Idea(variants=variants, assumed=assumed, refused=refused)


def _hose(plan: Plan) -> _Idea:
    """All hose and pipe behind the pumps in one bore; what belongs to a tap or handset stays as it is."""
    feeding: set[str] = set()
    for pump in plan.pumps:
        feeding |= behind(plan, pump)
    runs = [
        name
        for name, run in plan.runs.items()
        if name in feeding and run.start not in plan.mixers and run.end not in plan.tanks and not run.run_back
    ]
    runs = [name for name in runs if plan.runs[name].bore is not None or plan.runs[name].size is not None]
    if not runs:
        return _Idea(variants={}, refused=("No hose with a size leads away from a pump yet.",))
    variants: dict[str, Mapping[str, Any]] = {}
    for text in _BORES[plan.us]:
        variants[f"hose of {text} bore"] = {
            address: value for name in runs for address, value in _bored(plan, name, text)
        }
    told = "the same stuff in another bore, with a wall as thick where that is not sold, and the same fittings"
    return _Idea(
        variants=variants, assumed=(f"changed are {', '.join(runs)}", told, "hoses of handsets and spouts stay")
    )


def _bored(plan: Plan, name: str, text: str) -> Iterator[tuple[str, Any]]:
    """A run in another bore: of its own stuff where that is sold so, else with a wall as thick as its own."""
    run, at, bore = plan.runs[name], f"runs.{name}", BORE.read(text)
    row = pipes().get(run.size or "")
    if row is not None:
        alike = (other for other in pipes().values() if (other.kind, other.material) == (row.kind, row.material))
        size = next((other.key for other in alike if math.isclose(other.bore, bore)), None)
        if size is not None:
            yield f"{at}.size", size
            return
        yield f"{at}.size", None
        if run.material is None and row.material in materials():
            yield f"{at}.material", row.material
        if run.roughness is None:
            yield f"{at}.roughness", ROUGHNESS.written(row.roughness, plan.us)
    yield f"{at}.bore", text
    outside = run.outside if run.outside is not None or row is None else row.outside
    before = row.bore if row is not None else run.bore
    if outside is not None and before is not None:
        yield f"{at}.outside", BORE.written(bore + outside - before, plan.us)


_READY: Mapping[str, tuple[str, Callable[[Plan], _Idea]]] = {
    "filter": ("a filter for the whole van, or for one tap", _filter),
    "accumulator": ("an accumulator, or none", _accumulator),
    "tank": ("the fresh tank inside, or under the floor", _tank),
    "heat": ("water heated by electricity, by the engine or by diesel", _heat),
    "hose": ("narrower or wider hose behind the pump", _hose),
}
"""By key: what is compared, and what makes its variants."""
