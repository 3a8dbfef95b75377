"""The formulas of a van's water: SI numbers or arrays in, arrays out.

Every function's docstring is its sum: formula, symbols with their units, range, source, an example that runs.
Nothing here knows a plan, a file or a screen, and nothing is imported until it is asked for.

Every public name of these modules is also one of this package: ``from vanwater.physics import friction_loss``. Taken by
this door, a function warns of an argument that is not believable in a van (OutOfRangeWarning); taken from its module
it does not look. Where module and function have one name (frost_run, hammer, surge) it is the module's here:
``hammer.hammer``. ``import *`` brings nothing, since 250 names would bury one's own.

Water and air
    water            density, viscosity, heat capacity, conductivity, vapour pressure; the figures of ice
    statics          the pressure of a column of water, the height that a pressure holds up
    atmosphere       air pressure by altitude
    air              density, viscosity, conductivity of the air that cools tanks and hoses

Pressure and flow
    friction         velocity, Reynolds number, friction factor, pressure loss of round runs
    friction_law     the same law without division by the flow, for solvers
    fittings         losses of elbows, inserts, reducers, strainers: K with its basis, equivalent length
    tees             K of tees and wyes that join or part two flows
    valves           Kv and Cv, outlets by their litres at a bar
    pump             the curve of a diaphragm pump at its volts
    cutting          what to order of hose and pipe so that every piece can be cut from it
    pump_power       power in the water, power and current taken
    centrifugal      affinity laws and a curve from one point, for submersible pumps
    pump_kinds       the curves of speed-controlled, submersible, hand and foot pumps
    suction          dry lift at altitude, NPSH available, permissible lift
    series           one way from tank to one outlet, solved for many rows at once
    system_curve     the rise that a way to an open outlet asks of its pump, flow by flow
    pressure_switch  steady or cycling under an open outlet, and what then flows
    switch_cycle     the pressures that a switch's cycle passes, and the time it spends about each
    network          every outlet at once: flows and pressures of a whole network, many cases at a time

Accumulator and pressure swings
    accumulator      drawdown between the switch pressures, pre-charge by temperature and altitude
    switching        a pressure switch, its pump's curve, what yields between its pressures
    cycling          times on and off, starts an hour, the worst draw
    circuit          pump, switch, storage and the outlets' curves, made ready to be followed
    transient        pressure and flow over time while outlets open and close, exact switch times
    small_draws      a dripping tap at night, a hand-wash: how often they start the pump
    expansion        heated water against a check valve
    hammer           water hammer, and how far a hose gives
    surge            water hammer along several runs, up to the accumulator

Tanks, litres and weight
    vessel           water in boxes and cylinders, level and tilted
    tilted_cylinders cylinders that stand or lie tilted, the surface of water in a sloping van
    level            level by volume; any tank by a measured dip table
    demand           litres an event and a day, hot share, run-off while waiting for hot, days
    mass             loads on axles and sides, the centre of a mass

Heat
    heater           energy, recovery, litres from one charge, showers in a row
    heater_tank      layers that move with the water: draw, stirring, element, turnover, loss, thermostat
    instant          heating without a store
    scald            how long skin stands hot water
    nusselt          Nusselt numbers along plates and across cylinders, in wind and in still air
    film             the outside film: wind, still air, radiation
    heat_loss        walls of tanks: films, wall and foam in series
    shape_factors    foam around a tank: the area of its edges, corners and skin
    tank_faces       a tank as its faces, where each looks, what lies between
    tank_loss        a whole tank between outside, box and heated room
    pipe_loss        hoses and pipes, and the heat their walls hold

Frost
    cooling          a lump that cools: exact exponential, its mean, time to a temperature
    ice              water and ice as one lump, through freezing and thawing
    frost            what holds a tank above freezing, what a pad can do, how long ice takes
    frost_run        hours of weather, with a pad on a thermostat
    van_body         the living room after the heating stopped, and water that cools beside it

Electricity
    cable            resistance, voltage lost, what is left at the end
    ampacity         what a conductor may carry, and the fuse that protects it
    electric         energy and current behind inverter and cable, what charging gives back
    battery          what may be used of it, in the cold and at high currents, how long it lasts

Fuel
    fuel             what a burner takes for heat, what height leaves of its power

Drinking water
    chlorine         what a product holds by the basis of its label; the dose for a level in tank and lines
    sanitising       how long chlorine stands, how much water flushes it out again
"""

from __future__ import annotations

from importlib import import_module
from typing import Any

__all__: list[str] = []  # so that pydoc shows this page, and not every function behind it


def __getattr__(name: str) -> Any:
    if name.startswith("_"):
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    return import_module("vanwater.physics._exports").export(name)


def __dir__() -> list[str]:
    own = (name for name in globals() if name.startswith("__"))
    return sorted({*own, *import_module("vanwater.physics._exports").homes()})
