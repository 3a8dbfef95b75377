"""The plan of a van's water as physics sees it: arrays along a leading axis of rows, row 0 the plan itself.

Rows
    batch              the plan and its rows: unsure inputs, remedies, other designs
    remedies           what could be done otherwise along a way, each a row
    alike              rows that are alike are followed once, for this plan and for the next

Ways and runs
    ways               the way to one outlet, by names: tank, pump, hot and cold leg
    missing_runs       runs that are not drawn yet, and what they would join
    numbering          the numbers of pieces and runs, along the water
    path_conditions    what must be decided along a way, temperatures, the surface in the tank
    supply             bores, lengths, losses of runs; outlets by their litres at a bar
    hot_pipe           what runs off before hot water arrives
    hot_line           run-back lines and rings: what brings hot water near without running off
    ring               a ring while its pump runs: flow, losses, heat
    joints             what holds on what: fittings, ends of runs, threads

Pumps, taps and solves
    pump               curves of every kind of pump, pressure of the mains
    thermostat         thermostatic mixing valves: what they hold, what their ports take
    taps               a mixing tap that stays as it was set when other outlets open
    suction            the line before a pump: its heights, humps and check valves
    series             one way at a time, ready for the series solve
    network            any outlets open together, solved as one network
    network_parts      its nodes, runs and numbers

Pressure
    accumulators       what lies behind a pump, and which accumulator serves whom
    compliance         what yields behind a pump's switch: accumulator and line
    over_time          who opens what when, and the curves to follow it by
    moving_columns     the columns of water that a shutting tap stops
    design_pressure    the largest pressure and warmth that each run can come to see
    pieces             the same for joints, filters, valves, heaters, accumulators

Stores, heat and weight
    stores             what tanks take or give, what each use moves a day
    tank_groups        which tanks act as one
    water_surface      what a tank holds below a surface that slopes with the van, one surface through joined tanks
    full_volume        what a tank holds, full and level
    weight             what the water weighs and where it sits, trip by trip
    hot_water_demand   the heater and the uses of hot water
    hot_water_day      the draws of a day by a clock, and what they do to a heater with its hours
    next_shower        how long until the next shower is warm
    hours              the hours of a day by the states of the van
    day                what each consumer takes in each of them, and from what
    heat_a_day         heat that a heater gives and loses a day, by its own source and a second one
    converter          what hangs behind a converter of other volts
    charging           what puts energy back into the battery
    power              the battery as a bank, what a pump takes for the water
    wiring             what the cables may carry
    surroundings       outside air with its wind, boxes, the heated room
    van_body           how the room cools without heat, and what then lies beside tanks and runs
    heat               tanks in the cold: faces, layers, what lies beside
    exposed            hoses and pipes in the cold
    draining           what draining leaves behind, by heights, drains and check valves
    icing              how much ice blocks, how much endangers a wall
    pads               heating pads: heat into the water, energy from the battery
    water_temperature  how warm a tank's water is while one lives on it, and what a way draws
"""
