"""The stores of a van: fresh, grey, toilet. What each can take or give, and what each use moves a day.

Numbers are put together here once, along the rows; the sums are those of :mod:`vanwater.physics`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from vanwater.plan.model import Plan
from vanwater.quantities import Array
from vanwater.system.batch import Batch
from vanwater.system.hot_pipe import brought_pipe, comes_hot, hot_pipe, pipe_content
from vanwater.system.tank_groups import feeding_tank, sink_of, source_of, tank_groups
from vanwater.system.water_surface import held, surfaces
from vanwater.system.ways import way_to

__all__ = [
    "UNREACHED",
    "Moved",
    "Reach",
    "Store",
    "brought_content",
    "hot_content",
    "moved",
    "outlet_of",
    "stores",
    "tank_reach",
    "without_use",
]

UNREACHED = 0.05
"""Share of a fresh tank that the pick-up is taken not to reach while neither sides nor litres are said
(common practice, a placeholder to be measured)."""


@dataclass(frozen=True, slots=True)
class Reach:
    """What one tank can take or give.

    Parameters
    ----------
    full : array, shape (rows,)
        Content at the overflow as parked, all equal ones together [m³].
    out_of_reach : array, shape (rows,)
        Content that the pick-up or the drain leaves [m³].
    usable : array, shape (rows,)
        What it gives from its filling at departure (fresh), or still takes (grey, toilet) [m³].
    how : str
        How the litres out of reach are known: "measured", "shape" or "assumed".
    """

    full: Array
    out_of_reach: Array
    usable: Array
    how: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Moved:
    """What one use moves, along the rows.

    Parameters
    ----------
    events : array, shape (rows,)
        Events a day of each who does it [1/s].
    persons : array, shape (rows,)
        How many do it; 1 where the events are the van's [-].
    each : array, shape (rows,)
        Fresh water an event, without run-off [m³].
    hot_content : array, shape (rows,)
        Content of the hot pipe that is waited for; 0 where nobody waits or no pipe is known [m³].
    brought : array, shape (rows,)
        Content of the hot pipe that goes back to the tank or round a ring meanwhile, instead of running off [m³].
    waiting : array, shape (rows,)
        How many times that content is run off [-].
    starting : array, shape (rows,)
        Water that runs off while the burner of a heater starts that heats as the water flows [m³].
    adds : array, shape (rows,)
        What people add an event [m³].
    returns : array, shape (rows,)
        Share of the water that comes back [-].
    temperature : array, shape (rows,)
        Temperature wanted; NaN for cold, and where no hot water can come [K].
    source : str
        Fresh store it draws from; empty for none.
    sink : str
        Store it runs into; empty for none.
    unsaid : frozenset of str
        What it draws ("fresh") or gives ("grey", "urine", "cassette") while the plan has several stores of that and
        does not say which one is meant.
    """

    events: Array
    persons: Array
    each: Array
    hot_content: Array
    brought: Array
    waiting: Array
    starting: Array
    adds: Array
    returns: Array
    temperature: Array
    source: str
    sink: str
    unsaid: frozenset[str] = frozenset()


@dataclass(frozen=True, slots=True)
class Store:
    """One store: a tank, or tanks that act as one.

    Parameters
    ----------
    name : str
        Names of its tanks, joined.
    holds : str
        "fresh", "grey", "urine" or "cassette".
    tanks : tuple of str
        Its tanks, those that refill it last.
    usable : array, shape (rows,)
        What it gives or takes from departure [m³].
    """

    name: str
    holds: str
    tanks: tuple[str, ...]
    usable: Array


def tank_reach(batch: Batch, name: str) -> Reach:
    """What one tank can take or give, parked as the plan says.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    name : str
        The tank.

    Returns
    -------
    Reach
        Along the rows.
    """
    return batch.once(f"reach of {name}", lambda: _tank_reach(batch, name))


def _tank_reach(batch: Batch, name: str) -> Reach:
    at = f"tanks.{name}"
    tank = batch.plan.tanks[name]
    count = batch.number(f"{at}.count")
    full, left = _levels(batch, name)
    how = "shape" if tank.inside_height is not None else "assumed"
    if tank.out_of_reach is not None or tank.holds != "fresh":
        left = batch.number(f"{at}.out_of_reach", 0.0)
        how = "measured"
    fresh = tank.holds == "fresh"
    filled = batch.number(f"{at}.filled", 1.0 if fresh else 0.0)
    usable = full * filled - left if fresh else full * (1.0 - filled) - left
    return Reach(count * full, count * left, count * np.maximum(usable, 0.0), how)


def _levels(batch: Batch, name: str) -> tuple[Array, Array]:
    """Content at the overflow and below the pick-up of one tank [m³]."""
    capacity = batch.number(f"tanks.{name}.capacity")
    if batch.plan.tanks[name].inside_height is None:
        return capacity, UNREACHED * capacity
    levels = surfaces(batch, name)
    full, left = held(batch, name, levels.full), held(batch, name, levels.left)
    full = np.where(np.isnan(capacity), full, np.minimum(full, capacity))
    return full, np.minimum(left, full)


def stores(batch: Batch) -> tuple[Store, ...]:
    """The stores of the plan, in the order fresh, grey, urine, cassette.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.

    Returns
    -------
    tuple of Store
        Tanks of one kind that no use names act as one; none in a drained van.
    """
    if batch.plan.water.drained:
        return ()
    return tuple(
        Store(
            group.name,
            group.holds,
            group.tanks,
            np.sum([tank_reach(batch, name).usable for name in group.tanks], axis=0),
        )
        for group in tank_groups(batch.plan)
    )


def moved(batch: Batch) -> Mapping[str, Moved]:
    """What each use moves a day, and from which store into which.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.

    Returns
    -------
    mapping of str to Moved
        By use; nothing is done in a drained van.
    """
    return batch.once("moved", lambda: _moved(batch))


def _moved(batch: Batch) -> Mapping[str, Moved]:
    plan = batch.plan
    groups = tank_groups(plan)
    several = sum(group.holds == "fresh" for group in groups) > 1
    people = batch.number("household.people")
    habits = batch.factor("habits")
    waiting = 1.0 + (batch.number("household.run_off") - 1.0) * batch.factor("run-off")
    by_use = {}
    for name, use in plan.uses.items():
        at = f"uses.{name}"
        drawn = use.tank or (feeding_tank(plan, outlet_of(plan, name)) if several else None)
        source, sink = source_of(plan, drawn), sink_of(plan, use.to)
        by_use[name] = Moved(
            events=0.0 * habits if plan.water.drained else batch.number(f"{at}.a_day") * habits,
            persons=people if use.per == "person" else np.ones_like(people),
            each=batch.each((f"{at}.volume", f"{at}.flow", f"{at}.duration"), _each_time),
            hot_content=hot_content(batch, name),
            brought=brought_content(batch, name),
            waiting=waiting,
            starting=_starting(batch, name),
            adds=batch.number(f"{at}.adds"),
            returns=batch.number(f"{at}.returns"),
            temperature=_temperature(batch, name),
            source=source or "",
            sink=sink or "",
            unsaid=frozenset((*(["fresh"] if source is None else ()), *([use.to or "grey"] if sink is None else ()))),
        )
    return by_use


def _starting(batch: Batch, use: str) -> Array:
    """What runs off while a burner starts that heats as the water flows: at the use's flow, else the outlet's."""
    plan, outlet = batch.plan, outlet_of(batch.plan, use)
    heater = way_to(plan, outlet).heater if outlet in plan.outlets else ""
    if not plan.uses[use].hot or not heater or not plan.heaters[heater].as_it_flows:
        return np.zeros(len(batch))
    flow = batch.number(f"uses.{use}.flow")
    flow = np.nan_to_num(np.where(np.isnan(flow), batch.number(f"outlets.{outlet}.wanted"), flow))
    return np.asarray(flow * (batch.number(f"heaters.{heater}.start_up") if plan.heaters[heater].starts_in else 0.0))


def _temperature(batch: Batch, use: str) -> Array:
    """Temperature that a use wants; NaN for cold, and where no hot water can come."""
    if comes_hot(batch.plan, outlet_of(batch.plan, use)):
        return batch.number(f"uses.{use}.temperature")
    return np.full(len(batch), np.nan)


def outlet_of(plan: Plan, use: str) -> str:
    """The outlet of a use: the one it names, else the one of its own name or alone with its name in it, else empty."""
    named = plan.uses[use].outlet
    if named is not None or use in plan.outlets:
        return named or use
    like = [outlet for outlet in plan.outlets if use.lower() in outlet.lower().split()]
    return like[0] if len(like) == 1 else ""


def without_use(plan: Plan) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Outlets that hot water reaches and no use is counted at, and uses that wait for hot water at no known outlet.

    Parameters
    ----------
    plan : Plan
        The plan.

    Returns
    -------
    tuple of tuple of str
        Outlets and uses; where there are both, what runs off before the water comes hot is not counted.
    """
    used = {outlet_of(plan, use) for use in plan.uses}
    outlets = (outlet for outlet in plan.outlets if outlet not in used)
    hot = tuple(outlet for outlet in outlets if hot_pipe(plan, outlet) or brought_pipe(plan, outlet))
    waiting = (name for name, use in plan.uses.items() if use.hot and use.a_day > 0 and not outlet_of(plan, name))
    return hot, tuple(waiting)


def hot_content(batch: Batch, use: str) -> Array:
    """Content of the hot pipe that a use waits for.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    use : str
        The use.

    Returns
    -------
    array, shape (rows,)
        From heater to mixing tap, or from where hot water is brought to [m³]; 0 where nobody waits or no hot pipe is
        known.
    """
    waits = batch.plan.uses[use].hot
    return pipe_content(batch, hot_pipe(batch.plan, outlet_of(batch.plan, use)) if waits else ())


def brought_content(batch: Batch, use: str) -> Array:
    """Content of the hot pipe whose cooled water goes back to the tank or round a ring while one waits.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    use : str
        The use.

    Returns
    -------
    array, shape (rows,)
        From the heater to where :func:`hot_content` begins [m³].
    """
    waits = batch.plan.uses[use].hot
    return pipe_content(batch, brought_pipe(batch.plan, outlet_of(batch.plan, use)) if waits else ())


def _each_time(volume: float | None, flow: float | None, duration: float | None) -> float:
    if volume is not None:
        return volume
    return (flow or 0.0) * (duration or 0.0)
