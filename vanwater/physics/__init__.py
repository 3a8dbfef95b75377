"""The formulas of a van's water: SI numbers or arrays in, arrays out.

Every function's docstring is its sum: formula, symbols with their units, range, source, an example that runs.
Nothing here knows a plan, a file or a screen, and nothing is imported until a module is asked for.

Water and air
    water        density, viscosity, heat capacity, conductivity, vapour pressure; ice; the weight of a column
    atmosphere   air pressure by altitude, suction lift lost to altitude

Pressure and flow
    friction     velocity, Reynolds number, friction factor, pressure loss of round runs
    fittings     losses of elbows, tees, inserts, reducers, valves, strainers: K with its basis, Kv and Cv
    pump         the curve of a diaphragm pump at its volts; current and power; centrifugal affinity
    suction      NPSH available, permissible lift, priming margin at altitude
    series       one way from tank to one outlet, solved for many rows at once; steady or cycling
    network      every outlet at once: flows and pressures of a whole network, many cases at a time
    accumulator  drawdown, starts an hour, pressure during a draw, expansion of heated water, water hammer

Tanks, litres and weight
    vessel       volume and level of boxes, cylinders and dip tables; what a tilted tank keeps back
    demand       litres an event and a day, hot share, run-off while waiting for hot, days
    mass         loads on axles and sides

Heat and electricity
    heater       recovery, litres at tap temperature, layers with draw and mixing, instant heaters
    heat_loss    transmittance of tank faces and pipes by wind, driving or still air
    frost        pads and their duty, lowest cold held, hours to 0 °C, hours to ice
    electric     cable drop, battery, inverter, energy a day
"""
