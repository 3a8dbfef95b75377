"""The heating off: every tank and run with water in it while the living room cools as a body."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np

from vanwater.answers.core.number import Number
from vanwater.answers.core.working import by, stated
from vanwater.answers.frost.cold import FILLS, Cold, told_in
from vanwater.answers.frost.icing import to_block, to_burst
from vanwater.answers.frost.runs import run_label
from vanwater.physics import tank_loss
from vanwater.physics.van_body import body_time_constant, time_to_ice_in_cooling_room
from vanwater.physics.water import FREEZING_POINT
from vanwater.plan.frost_tables import BurstRow
from vanwater.plan.tanks import label_of
from vanwater.plan.winter import BESIDE
from vanwater.quantities import CONDUCTANCE, HOURS, SHARE, TEMPERATURE, Array
from vanwater.system.exposed import RunHeat, conductances, run_heat, standing
from vanwater.system.heat import TankHeat, tank_heat, transmittances
from vanwater.system.icing import open_ended, open_row, run_row
from vanwater.system.surroundings import Case, Codes
from vanwater.system.van_body import VanBody, body_row, cooled, van_body

__all__ = ["FREEZING_SHARES", "HeatingOff", "OffPiece", "heating_off"]

FREEZING_SHARES = ("time_to_freezing", "time_to_ice", "time_to_burst")
"""Key of the time until a piece is at 0 °C, blocked, in danger of bursting."""

_WHEN = dict(zip(FREEZING_SHARES, ("at freezing", "blocked", "in danger of bursting"), strict=True))
_OUTSIDE = BESIDE.index("outside")


@dataclass(frozen=True, slots=True, eq=False, kw_only=True)
class Lump:
    """The water of one run, or of one tank so full, along the rows.

    Parameters
    ----------
    key : tuple of str
        ("run", name) or ("tank", name).
    label, fill : str
        What it is called, and how full a tank is; empty for a run.
    indoors : bool
        Whether nothing of it lies outside.
    open_ended : bool
        Whether it is a run with an open end, out of which ice may grow.
    beside : array
        Temperature beside it once the air has fallen, for several neighbours that of rest [K].
    conductance : array
        Heat that it loses for each kelvin [W/K].
    water, wall : array
        Water, and the water equivalent of its wall [kg].
    row : BurstRow
        What its wall stands.
    heat : mapping
        How conductance and temperature of rest come about, for the sum.
    """

    key: tuple[str, str]
    label: str
    fill: str
    indoors: bool
    open_ended: bool
    beside: Array
    conductance: Array
    water: Array
    wall: Array
    row: BurstRow
    heat: Mapping[str, Any]


@dataclass(frozen=True, eq=False)
class OffPiece:
    """One run, or one tank so full, with the heating off; its numbers are made when they are first read.

    Parameters
    ----------
    off : HeatingOff
        The van with the heating off.
    place : int
        Where it stands there.
    """

    off: HeatingOff
    place: int

    @property
    def lump(self) -> Lump:
        """Its water along the rows."""
        return self.off.lumps[self.place]

    @property
    def indoors(self) -> bool:
        """Whether nothing of it lies outside."""
        return self.lump.indoors

    @property
    def is_run(self) -> bool:
        """Whether it is a run."""
        return self.lump.key[0] == "run"

    @property
    def name(self) -> str:
        """What the plan calls it."""
        return self.lump.key[1]

    @property
    def label(self) -> str:
        """What it is called in a sentence: "suction", "last tenth of the fresh tank"."""
        begun = {"": "", "full": "full ", "half": "half full ", "tenth": "last tenth of the "}[self.lump.fill]
        return begun + self.lump.label

    @cached_property
    def freezing(self) -> Number:
        """Time until its still water is at 0 °C."""
        return self._until("time_to_freezing")

    @cached_property
    def blocked(self) -> Number:
        """Time until ice blocks it."""
        return self._until("time_to_ice")

    @cached_property
    def burst(self) -> Number | None:
        """Time until it is in danger of bursting; None for a tank that is not full."""
        return self._until("time_to_burst") if self.lump.fill in ("", "full") else None

    def _until(self, key: str) -> Number:
        lump, cold = self.lump, self.off.cold
        hours = self.off.hours[FREEZING_SHARES.index(key), self.place]
        share = {"time_to_ice": to_block(cold), "time_to_burst": to_burst(cold, lump.row)}.get(key, 0.0)
        return by(
            f"time until the {self.label} is {_WHEN[key]}, heating off",
            hours,
            told_in(hours[0]),
            time_to_ice_in_cooling_room,
            start=cold.start,
            ice_share=share,
            outside=cold.outside,
            mass=lump.water,
            time_constant=lambda: self.off.time_constant,
            wall=lump.wall,
            **lump.heat,
        ).keyed(*lump.key, key, "heating_off", *filter(None, (lump.fill,)), pairs=cold.pairs, least=0.0, digits=2)


@dataclass(frozen=True, eq=False)
class HeatingOff:
    """The van with the heating off, along the rows.

    Parameters
    ----------
    cold : Cold
        The solved plan.
    body : VanBody
        How its room cools.
    lumps : sequence of Lump
        Every tank, so full, and every run with water in it, whose sides or bore are decided.
    silent : tuple of str
        Those of which the plan does not say enough.
    """

    cold: Cold
    body: VanBody
    lumps: Sequence[Lump]
    silent: tuple[str, ...]

    @cached_property
    def hours(self) -> Array:
        """Times until 0 °C, until blocked and until in danger, shaped (3, lumps, rows)."""
        cold = self.cold
        blocks = to_block(cold).values
        shares = [[0.0 * blocks, blocks, to_burst(cold, lump.row).values] for lump in self.lumps]
        beside, conductance, water, wall = (
            np.array([getattr(lump, field) for lump in self.lumps])
            for field in ("beside", "conductance", "water", "wall")
        )
        return time_to_ice_in_cooling_room(
            cold.start.values,
            np.swapaxes(shares, 0, 1),
            beside,
            cold.outside.values,
            conductance,
            water,
            self.body.time_constant,
            wall,
        )

    @cached_property
    def pieces(self) -> tuple[OffPiece, ...]:
        """Every piece, the one that blocks first first."""
        pieces = (OffPiece(self, place) for place in range(len(self.lumps)))
        return tuple(sorted(pieces, key=lambda piece: float(self.hours[1, piece.place, 0])))

    @cached_property
    def first(self) -> OffPiece | None:
        """The piece indoors that blocks first, but for runs with an open end; None where none does."""
        first = next((piece for piece in self.pieces if piece.indoors and not piece.lump.open_ended), None)
        return first if first is not None and np.isfinite(first.blocked.likely) else None

    @cached_property
    def time_constant(self) -> Number:
        """Time constant of the van's body."""
        batch, said = self.cold.batch, self.cold.plan.body
        if said.measured is not None:
            number = by(
                "time constant of the van's body",
                self.body.time_constant,
                HOURS,
                body_time_constant,
                first=batch.number("body.measured.first"),
                later=batch.number("body.measured.later"),
                duration=batch.number("body.measured.after"),
                outside=batch.number("body.measured.outside"),
            )
        else:
            number = stated(
                "time constant of the van's body",
                self.body.time_constant,
                HOURS,
                "As the plan says it." if said.time_constant is not None else "By the size of its living room.",
                source="the plan" if said.time_constant is not None else f"{body_row(batch.plan).source}, from memory",
            )
        return number.keyed("body", "time_constant", pairs=self.cold.pairs, least=0.0, digits=2)

    @cached_property
    def fall(self) -> Number:
        """Share of the difference by which the air falls at once."""
        return stated(
            "share by which the air falls at once",
            self.body.fall,
            SHARE,
            "The air holds little heat: within minutes it is down to what walls and furniture keep it at.",
            source=f"{body_row(self.cold.plan).source}, from memory",
        ).keyed("body", "air_falls", pairs=self.cold.pairs, least=0.0, digits=2)

    def through(self, tank: str) -> Number:
        """Heat for each kelvin of a tank, the room as cold as the outside."""
        lump = next(lump for lump in self.lumps if lump.key == ("tank", tank))
        number = lump.heat["conductance"]()
        assert isinstance(number, Number)
        return number

    def follows_room(self, tank: str) -> bool:
        """Whether room or boxes keep a tank warmer than the outside while the van is heated."""
        lump = next((lump for lump in self.lumps if lump.key == ("tank", tank)), None)
        return lump is not None and bool(lump.beside[0] > self.cold.outside.values[0])


def heating_off(cold: Cold) -> HeatingOff | None:
    """The van with the heating off.

    Parameters
    ----------
    cold : Cold
        The solved plan.

    Returns
    -------
    HeatingOff or None
        None where the room is not heated anyway, or nothing holds water of which the plan says enough.
    """
    batch, plan = cold.batch, cold.plan
    if not batch.number("frost.room")[0] > FREEZING_POINT:
        return None
    body = van_body(batch)
    around = cooled(body, cold.around, cold.outside.values)
    case = Case(0.5 * (cold.start.values + FREEZING_POINT), cold.outside.values, heated=False)
    known = {name: cold.tanks[name].heat if name in cold.tanks else tank_heat(batch, name) for name in plan.tanks}
    full = {run.run: run for run in cold.runs}
    runs = {name: full.get(name) or run_heat(batch, name) for name in standing(plan)}
    tanks, told = [heat for heat in known.values() if heat], [run for run in runs.values() if run]
    through = conductances(batch, told, [case])[0]
    lumps = [
        _run(cold, run, through[:, place], around.beside(run.codes[:, None])[:, 0]) for place, run in enumerate(told)
    ]
    for heat, each in zip(tanks, transmittances(batch, tanks, [case]), strict=True):
        lumps += _tank(cold, heat, each[0], around.beside(heat.codes))
    lumps = [lump for lump in lumps if np.all(lump.water + lump.wall > 0)]  # a run of no length holds nothing
    silent = (*(label_of(name) for name, heat in known.items() if not heat), *(n for n, run in runs.items() if not run))
    return HeatingOff(cold, body, lumps, silent) if lumps else None


def _indoors(codes: Codes) -> bool:
    return bool(np.all(codes != _OUTSIDE))


def _run(cold: Cold, run: RunHeat, through: Array, beside: Array) -> Lump:
    return Lump(
        key=("run", run.run),
        label=run_label(cold.plan, run.run),
        fill="",
        indoors=_indoors(run.codes[0]),
        open_ended=open_ended(cold.plan, run.run),
        beside=beside,
        conductance=through,
        water=run.water,
        wall=run.wall,
        row=run_row(cold.batch, run.run),
        heat={"conductance": through, "beside": beside},
    )


def _tank(cold: Cold, heat: TankHeat, transmittance: Array, neighbours: Array) -> Iterator[Lump]:
    label, area, pairs = label_of(heat.tank), heat.faces.area, cold.pairs
    through = tank_loss.conductance(area, transmittance)
    rest = tank_loss.equilibrium_temperature(area, transmittance, neighbours)
    beside = np.maximum(rest, cold.outside.values)  # no colder by a rounding
    key = ("tank", heat.tank)
    made: dict[str, Any] = {
        "conductance": lambda: by(
            f"heat for each degree, {label} with the heating off",
            through,
            CONDUCTANCE,
            tank_loss.conductance,
            area=area,
            transmittance=transmittance,
        ).keyed(*key, "conductance", "heating_off", pairs=pairs),
        "beside": lambda: by(
            f"temperature of rest of the {label} once the air has fallen",
            beside,
            TEMPERATURE,
            tank_loss.equilibrium_temperature,
            area=area,
            transmittance=transmittance,
            neighbours=neighbours,
        ).keyed(*key, "rest", "heating_off", pairs=pairs),
    }
    for fill, share in FILLS.items():
        yield Lump(
            key=key,
            label=label,
            fill=fill,
            indoors=_indoors(heat.codes[0]),
            open_ended=False,
            beside=beside,
            conductance=through,
            water=share * heat.content * 1000.0,
            wall=np.zeros(len(cold.batch)),
            row=open_row(),
            heat=made,
        )
