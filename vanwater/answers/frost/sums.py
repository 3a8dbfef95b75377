"""The sums of a tank and of a run in the cold: loss by face, hours without heat, pads."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from vanwater.answers.core.statement import Amount
from vanwater.answers.core.working import Step, shown, step
from vanwater.answers.frost.battery import PadsADay, day_sums
from vanwater.answers.frost.cold import DRIVING, DRIVING_MEAN, FILLS, PARKED, PARKED_MEAN, Cold, TankCold
from vanwater.answers.frost.pads import COLDEST, PadRows, following
from vanwater.answers.frost.pieces import FaceLoss, TankFrost
from vanwater.physics import cooling, frost, heat_loss, pipe_loss, tank_loss
from vanwater.physics.tank_faces import INSIDE_FILM
from vanwater.physics.water import FREEZING_POINT
from vanwater.quantities import DAILY_ENERGY, POWER, SHARE, TEMPERATURE, Array
from vanwater.system.exposed import RunHeat
from vanwater.system.heat import FACES, Side
from vanwater.system.pads import hours_parked

__all__ = ["frost_sums"]

STATES = {"parked": PARKED, "driving": DRIVING}


def frost_sums(cold: Cold, tanks: Sequence[TankFrost], day: PadsADay | None) -> dict[str, Step]:
    """Every number of a plan in the cold with its sum.

    Parameters
    ----------
    cold : Cold
        The solved plan.
    tanks : sequence of TankFrost
        Its tanks in the cold.
    day : PadsADay or None
        What the counted pads take.

    Returns
    -------
    dict of str to Step
        By "frost.tank.number", "frost.run.number", "frost.number".
    """
    found: dict[str, Step] = {}
    for tank in tanks:
        one = cold.tanks[tank.tank]
        sums = _losses(cold, one, tank.label, tank.faces) | _hours(cold, one, tank.label)
        if tank.pad is not None:
            sums |= _pads(cold, one, tank.pad.rows, tank.label, sums)
        found |= {f"frost.{tank.tank}.{key}": made for key, made in sums.items()}
    for place, run in enumerate(cold.runs):
        found |= {f"frost.{run.run}.{key}": made for key, made in _run(cold, run, place).items()}
    if day is not None:
        found |= {f"frost.{key}": made for key, made in day_sums(cold, day).items()}
    return found


def _losses(cold: Cold, one: TankCold, label: str, faces: tuple[FaceLoss, ...]) -> dict[str, Step]:
    area = one.heat.faces.area[0]
    found: dict[str, Step] = {}
    for state, case in STATES.items():
        u, beside = one.transmittance[case, 0], one.beside[case, 0]
        through = step(f"heat for each kelvin, {label} {state}", tank_loss.conductance, area=area, transmittance=u)
        rest = step(
            f"temperature of rest, {label} {state}",
            tank_loss.equilibrium_temperature,
            area=area,
            transmittance=u,
            neighbours=beside,
        )
        found[f"needed_{state}"] = step(
            f"heat to hold the {label} {state}",
            frost.holding_power,
            conductance=through,
            hold=cold.hold[0],
            outside=rest,
        )
        found[f"loss_{state}"] = shown(
            f"heat that the {label} loses {state}",
            Amount(float(np.sum(area * u * (cold.hold[0] - beside))), POWER),
            "The faces add up; a face beside something warmer feeds the tank and counts negative.",
            parts=[(", ".join(face.names), Amount(getattr(face, state), POWER)) for face in faces],
            facts=[(f"transmittance of the {face.names[0]}", _transmittance(one, face.names[0], u)) for face in faces],
            source="faces in parallel, each film, wall and foam in series",
        )
    return found


def _transmittance(one: TankCold, face: Side, every: Array) -> Step:
    """The sum of a face's transmittance, with the film that the solve found outside."""
    place, layers = FACES.index(face), one.heat.layers
    wall, solid, foam, soft = (
        float(np.asarray(part)[0, place])
        for part in (layers.wall, layers.wall_conductivity, layers.foam, layers.foam_conductivity)
    )
    return step(
        f"transmittance of the {face}",
        heat_loss.transmittance,
        inside_film=INSIDE_FILM,
        wall=wall,
        wall_conductivity=solid,
        foam=foam,
        foam_conductivity=soft,
        outside_film=1.0 / (1.0 / float(every[place]) - 1.0 / INSIDE_FILM - wall / solid - foam / soft),
    )


def _hours(cold: Cold, one: TankCold, label: str) -> dict[str, Step]:
    found = {
        f"hours_{state}.{fill}": step(
            f"time until the {label} is at freezing, {state}, {'last tenth' if fill == 'tenth' else fill}",
            cooling.time_until,
            start=cold.start[0],
            final=FREEZING_POINT,
            outside=one.rest[case, 0],
            conductance=one.through[case, 0],
            mass=one.mass[place, 0],
        )
        for state, case in STATES.items()
        for place, fill in enumerate(FILLS)
    }
    found["ice"] = step(
        f"time at freezing until the {label} is lost to ice",
        frost.freezing_time,
        ice_share=cold.plan.frost.ice_share,
        mass=one.mass[0, 0],
        conductance=one.through[PARKED, 0],
        outside=one.rest[PARKED, 0],
    )
    return found


def _pads(cold: Cold, one: TankCold, rows: PadRows, label: str, made: dict[str, Step]) -> dict[str, Step]:
    power, share = rows.heat.power[0], rows.heat.net_share[0]
    found: dict[str, Step] = {}
    for state in STATES:
        found[f"duty_{state}"] = step(
            f"share of the time the pad of the {label} is on {state}",
            frost.pad_duty,
            needed=made[f"needed_{state}"],
            pad=power,
            net_share=share,
        )
        found[f"holds_{state}"] = _holds(cold, one, rows, label, state)
    worst = max(STATES, key=lambda state: float(made[f"needed_{state}"].value))
    found["smallest"] = step(
        f"smallest pad that holds the {label}", frost.smallest_pad, needed=made[f"needed_{worst}"], net_share=share
    )
    found["energy"] = _energy(cold, one, rows, label)
    return found


def _holds(cold: Cold, one: TankCold, rows: PadRows, label: str, state: str) -> Step:
    place = STATES[state]
    area, u = one.heat.faces.area[0], rows.near[place, 0]
    name = f"lowest cold at which the {label} is held {state}"
    total = step(f"heat for each kelvin near that cold, {state}", tank_loss.conductance, area=area, transmittance=u)
    follows = following(cold, one)[0][0]
    alone = bool(np.all(follows == 1.0))
    rest = step(
        name if alone else "lowest temperature of rest that is held",
        frost.lowest_cold,
        hold=cold.hold[0],
        pad=rows.heat.power[0],
        net_share=rows.heat.net_share[0],
        conductance=total,
    )
    there = float(rows.holds[place, 0])
    if alone and there > COLDEST:
        return rest
    return shown(
        name,
        Amount(there, TEMPERATURE),
        "The outside temperature that brings the mean of all neighbours, weighted by the heat that each face lets "
        "through, to the lowest temperature of rest.",
        facts=[
            ("lowest temperature of rest", rest),
            (
                "share of the faces that follows the outside",
                Amount(float(np.sum(area * u * follows)) / float(total.value), SHARE),
            ),
        ],
        source="steady heat balance of a lump with several neighbours",
        note=f"Told down to {Amount(COLDEST, TEMPERATURE).text()} at most.",
    )


def _energy(cold: Cold, one: TankCold, rows: PadRows, label: str) -> Step:
    """Energy a day at the mean cold, the hours parked and driving each with their own loss."""
    parts, parked = [], float(hours_parked(cold.batch)[0])
    for case, state, share in ((PARKED_MEAN, "parked", parked), (DRIVING_MEAN, "driving", 1.0 - parked)):
        if share <= 0:
            continue
        needed = step(
            f"heat to hold the {label} at the mean cold, {state}",
            frost.holding_power,
            conductance=one.through[case, 0],
            hold=cold.hold[0],
            outside=one.rest[case, 0],
        )
        power, net_share = rows.heat.power[0], rows.heat.net_share[0]
        on = step("duty then", frost.pad_duty, needed=needed, pad=power, net_share=net_share)
        parts.append((f"{share * 24:.3g} h {state}", step("all day", frost.pad_energy, duty=on, pad=power)))
    return shown(
        f"energy a day of the pad of the {label}",
        Amount(float(rows.a_day[0]), DAILY_ENERGY),
        "Draw at the mean cold, parked and driving, each for its share of the day.",
        facts=parts,
        value=rows.a_day,
        source="heat balance at the mean temperature of the day",
    )


def _run(cold: Cold, run: RunHeat, place: int) -> dict[str, Step]:
    wall = step(
        f"water equivalent of the wall of {run.run}",
        pipe_loss.water_equivalent,
        length=float(np.asarray(run.pipe.length)[0]),
        bore=float(np.asarray(run.pipe.bore)[0]),
        outside=float(np.asarray(run.pipe.outside)[0]),
        wall_density=run.material.density,
        wall_heat_capacity=run.material.heat_capacity,
    )
    hours = {
        f"hours_{state}": step(
            f"time until still water in {run.run} is at freezing, {state}",
            cooling.time_until,
            start=cold.start[0],
            final=FREEZING_POINT,
            outside=cold.around.beside(run.codes[:, None])[0, 0],
            conductance=cold.conductance[case, 0, place],
            mass=run.water[0] + run.wall[0],
        )
        for state, case in STATES.items()
    }
    return {**hours, "wall": wall}
