"""The numbers of sanitising: water in tanks and lines, doses of chlorine, what flushes it out again."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from vanwater.answers.core.key import Key
from vanwater.answers.core.number import Number
from vanwater.answers.core.spread import UnsureRows
from vanwater.answers.core.working import limit, stated, step
from vanwater.physics import chlorine
from vanwater.physics import sanitising as methods
from vanwater.plan.tanks import label_of
from vanwater.quantities import CONCENTRATION, HOURS, MASS, SHARE, VOLUME
from vanwater.system.batch import Batch
from vanwater.system.full_volume import full_volume
from vanwater.system.hot_pipe import pipe_content
from vanwater.system.stores import tank_reach
from vanwater.system.tank_groups import TankGroup, runs_behind

__all__ = ["DOSE", "GRAMS", "Chlorine", "Sanitised"]

DOSE = replace(VOLUME, metric="mL", us="fl oz", example="80 mL")
GRAMS = replace(MASS, metric="g", us="g", example="6 g")
"""A kitchen scale reads grams, in US plans too."""

START = (10e-3, 20e-3, 25e-3)
"""Free chlorine to start with in a full tank, kg/m³: if nothing is used up, likely, and if hoses use up much of it
(common practice)."""
BLEACH = 0.05
"""Sodium hypochlorite in household bleach by weight (common practice)."""
GRANULES = 0.65
"""Available chlorine in granular calcium hypochlorite by weight."""


class Chlorine:
    """What holds for every tank: levels, times and products.

    Parameters
    ----------
    us : bool
        Whether the limit of the United States counts before the water is used again.
    """

    def __init__(self, us: bool) -> None:
        (full,), (walls,) = methods.FULL_TANK.stands, methods.WALLS.stands
        bottom, filled = methods.TWO_STEPS.stands
        self.start = stated(
            "free chlorine to start with, tank full",
            START[1],
            CONCENTRATION,
            "So that enough is left at the end: walls of hoses and their film use some up.",
            facts=(("left at the end", (full.left or 0.0, CONCENTRATION)),),
            source="common practice",
        ).keyed("chlorine", "start", "full", bracket=(START[0], START[2]), digits=2)
        self.left = _level("chlorine left in a full tank", full.left, methods.FULL_TANK)
        self.time = _time("time of a full tank", full, methods.FULL_TANK)
        self.bottom = _level("chlorine in the bottom", bottom.start, methods.TWO_STEPS)
        self.bottom_part = limit("part called the bottom", bottom.part, SHARE, *_source(methods.TWO_STEPS))
        self.bottom_time = _time("time of the bottom", bottom, methods.TWO_STEPS)
        self.kept = _level("chlorine kept in the filled tank", filled.left, methods.TWO_STEPS)
        self.kept_time = _time("time of the filled tank", filled, methods.TWO_STEPS)
        self.walls = _level("chlorine on walls", walls.start, methods.WALLS)
        self.walls_time = _time("time of wetted walls", walls, methods.WALLS)
        self.allowed = limit(
            "chlorine in water that is used",
            methods.US_MAXIMUM if us else methods.RETURN_TO_SERVICE,
            CONCENTRATION,
            "US EPA, 40 CFR 141.65" if us else "WHO guideline value; CDC Vessel Sanitation Program (2018), 5.3.5",
            digits=2,
        )
        self.strength = limit("strength of bleach", BLEACH, SHARE, "common practice", digits=2)
        self.granules = limit("strength of granules", GRANULES, SHARE, "ANSI/AWWA C652-11, 4.2.3", digits=2)
        self.bleach = step(
            "available chlorine in bleach",
            chlorine.available_chlorine,
            strength=self.strength,
            basis=chlorine.Basis.HYPOCHLORITE_BY_WEIGHT,
        )
        pail = VOLUME.spellings["gal" if us else "L"].factor
        self.pail = limit("water for a spray", pail, VOLUME, "common practice")
        self.spray = _dose("bleach in a spray", self.pail, self.walls, self).keyed("spray", "bleach", digits=2)


def _source(method: methods.Method) -> tuple[str, str]:
    return f"{method.source} ({method.basis})", f"{method.words[0].upper()}{method.words[1:]}."


def _level(name: str, level: float | None, method: methods.Method) -> Number:
    return limit(name, np.nan if level is None else level, CONCENTRATION, *_source(method))


def _time(name: str, stand: methods.Stand, method: methods.Method) -> Number:
    return limit(name, stand.time, HOURS, *_source(method), digits=2)


def _dose(name: str, volume: Number, level: Number, of: Chlorine) -> Number:
    return replace(step(name, chlorine.liquid_dose, volume=volume, level=level, chlorine=of.bleach), quantity=DOSE)


def _granules(name: str, volume: Number, level: Number, of: Chlorine) -> Number:
    return replace(step(name, chlorine.dry_dose, volume=volume, level=level, strength=of.granules), quantity=GRAMS)


@dataclass(frozen=True, eq=False)
class Sanitised:
    """Fresh tanks that act as one, with the lines and heaters behind them.

    Parameters
    ----------
    batch : Batch
        The plan with its rows.
    group : TankGroup
        The tanks.
    chlorine : Chlorine
        What holds for every tank.
    slopes : sequence of UnsureRows
        Rows in which the van stands off its slope.
    """

    batch: Batch
    group: TankGroup
    chlorine: Chlorine
    slopes: Sequence[UnsureRows]

    @property
    def word(self) -> str:
        """Whether it is one tank or several."""
        return "tank" if len(self.group.tanks) == 1 else "tanks"

    @property
    def called(self) -> tuple[str, ...]:
        """Its tanks as a sentence calls them."""
        return tuple(f"the {label_of(tank)}" for tank in self.group.tanks)

    @property
    def it(self) -> str:
        """What a sentence says instead of their names."""
        return "it" if len(self.group.tanks) == 1 else "them"

    @property
    def key(self) -> Key:
        """What its numbers are called: a tank by its name, tanks that act as one by all of theirs."""
        return (self.word, self.group.name)

    @cached_property
    def runs(self) -> tuple[str, ...]:
        """The runs that its water fills."""
        return runs_behind(self.batch.plan, self.group.tanks)

    @property
    def tapped(self) -> bool:
        """Whether a line leads out of it, or a pump hangs in it: then its water comes by the taps."""
        pumps = self.batch.plan.pumps.values()
        return bool(self.runs) or any(pump.tank in self.group.tanks for pump in pumps)

    @property
    def undecided(self) -> tuple[str, ...]:
        """Those of them whose content is not known."""
        runs = ((name, self.batch.plan.runs[name]) for name in self.runs)
        return tuple(name for name, run in runs if run.length is None or (run.size is None and run.bore is None))

    @cached_property
    def heaters(self) -> tuple[str, ...]:
        """The heaters that its water fills."""
        ends = {self.batch.plan.runs[run].end for run in self.runs}
        return tuple(name for name in self.batch.plan.heaters if name in ends)

    @cached_property
    def tanks(self) -> Number:
        """Content of its tanks, standing level."""
        each = {name: full_volume(self.batch, name) for name in self.group.tanks}
        return stated(
            f"content of {self.group.name}",
            np.sum([*each.values()], axis=0),
            VOLUME,
            "Up to the overflow, standing level, all its tanks together.",
            parts=[(name, (content, VOLUME)) for name, content in each.items()],
            source="geometry of the tank, or its stated capacity",
        ).keyed(*self.key, "content")

    @cached_property
    def lines(self) -> Number:
        """What the lines behind it hold."""
        each = {run: pipe_content(self.batch, [run]) for run in self.runs}
        return stated(
            f"water in the lines of {self.group.name}",
            np.sum([np.zeros(len(self.batch)), *each.values()], axis=0),
            VOLUME,
            "Hoses and pipes whose size and length are decided.",
            parts=[(run, (content, VOLUME)) for run, content in each.items()],
            source="bore and length of each run",
        ).keyed(*self.key, "lines")

    @cached_property
    def hot(self) -> Number:
        """What the heaters behind it hold."""
        each = {name: self.batch.number(f"heaters.{name}.volume") for name in self.heaters}
        return stated(
            f"water in the heaters of {self.group.name}",
            np.sum([np.zeros(len(self.batch)), *each.values()], axis=0),
            VOLUME,
            "The hot side is sanitised too.",
            parts=[(name, (content, VOLUME)) for name, content in each.items()],
            source="the plan",
        ).keyed(*self.key, "heaters")

    @cached_property
    def water(self) -> Number:
        """Tanks, lines and heaters together."""
        return stated(
            f"water to sanitise with {self.group.name}",
            self.tanks.values + self.lines.values + self.hot.values,
            VOLUME,
            "Tanks, lines and heaters all full.",
            parts=[("tanks", self.tanks), ("lines", self.lines), ("heaters", self.hot)],
            source="sum of contents",
        ).keyed(*self.key, "water")

    @cached_property
    def bleach(self) -> Number:
        """Bleach for the full tank."""
        return self._started(f"bleach for {self.group.name}", _dose).keyed(
            *self.key, "bleach", "full", bracket=self._ends(_dose), digits=2
        )

    @cached_property
    def granules(self) -> Number:
        """Granules for the full tank."""
        return self._started(f"granules for {self.group.name}", _granules).keyed(
            *self.key, "granules", "full", bracket=self._ends(_granules), digits=2
        )

    @cached_property
    def bottom(self) -> Number:
        """Content of the part called the bottom."""
        return stated(
            f"bottom of {self.group.name}",
            self.chlorine.bottom_part.likely * self.tanks.values,
            VOLUME,
            "That part of the tank's content.",
            facts=(("tanks", self.tanks), ("part", self.chlorine.bottom_part)),
            source=self.chlorine.bottom_part.source,
        ).keyed(*self.key, "content", "bottom", digits=2)

    @cached_property
    def bottom_bleach(self) -> Number:
        """Bleach for the bottom."""
        own = _dose(f"bleach for the bottom of {self.group.name}", self.bottom, self.chlorine.bottom, self.chlorine)
        return own.keyed(*self.key, "bleach", "bottom", digits=2)

    @cached_property
    def bottom_granules(self) -> Number:
        """Granules for the bottom."""
        name = f"granules for the bottom of {self.group.name}"
        own = _granules(name, self.bottom, self.chlorine.bottom, self.chlorine)
        return own.keyed(*self.key, "granules", "bottom", digits=2)

    @cached_property
    def filled(self) -> Number:
        """Level that the bottom's chlorine makes once all is full, if none is used up."""
        return step(
            f"free chlorine in {self.group.name} filled up",
            chlorine.level_of_liquid,
            product=self.bottom_bleach,
            chlorine=self.chlorine.bleach,
            volume=self.water,
        ).keyed(*self.key, "chlorine", "filled", digits=2)

    @cached_property
    def left(self) -> Number:
        """Share of the water that stays in its tanks when they are drained."""
        reaches = [tank_reach(self.batch, name) for name in self.group.tanks]
        full, left = (np.sum([getattr(reach, part) for reach in reaches], axis=0) for part in ("full", "out_of_reach"))
        return stated(
            f"share of {self.group.name} that stays when it is drained",
            left / full,
            SHARE,
            "What the pick-up does not reach as parked, of the full tank.",
            facts=(("out of reach", (left, VOLUME)), ("full", (full, VOLUME))),
            source="geometry of the tank, or measured, or common practice",
        ).keyed(*self.key, "left_share", pairs=self.slopes, least=0.0, digits=2)

    @cached_property
    def changes(self) -> Number | None:
        """How many times it is drained and filled again; None where the pick-up reaches nothing."""
        if not np.all(self.left.values < 1.0):
            return None
        least, most = self.left.range or (self.left.likely, self.left.likely)
        low, high = (
            float(methods.changes(left, level, self.chlorine.allowed.likely))
            for left, level in ((least, START[0]), (most, START[2]))
        )
        return step(
            f"fillings that flush {self.group.name}",
            methods.changes,
            left=self.left,
            level=self.chlorine.start,
            limit=self.chlorine.allowed,
        ).keyed(*self.key, "flush", "fillings", bracket=(low, high))

    @cached_property
    def through(self) -> Number:
        """Water that runs through the full tank instead: as if mixed, at least as if pushed out like a plug."""
        volume, allowed = self.water.likely, self.chlorine.allowed.likely
        plug = float(methods.flush_plug(volume, START[1], allowed))
        most = float(methods.flush_mixed(volume, START[2], allowed))
        return step(
            f"water that flushes {self.group.name}",
            methods.flush_mixed,
            volume=self.water,
            level=self.chlorine.start,
            limit=self.chlorine.allowed,
        ).keyed(*self.key, "flush", "through", bracket=(plug, most))

    def _started(self, name: str, dose: Callable[[str, Number, Number, Chlorine], Number]) -> Number:
        return dose(name, self.water, self.chlorine.start, self.chlorine)

    def _ends(self, dose: Callable[[str, Number, Number, Chlorine], Number]) -> tuple[float, float]:
        """A dose at the least and at the most to start with: it rises as the level does."""
        likely = self._started("", dose).likely
        return likely * START[0] / START[1], likely * START[2] / START[1]
