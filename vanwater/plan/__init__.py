"""The plan of a van's water: what the builder decides, its file, the tables of stock sizes.

===========  =====================================================================
model        the whole plan; one address for every value
household    who lives in the van, how water is used, where the van stands
tanks        fresh, grey and toilet tanks
supply       pump, runs, fittings, mixing taps, outlets, accumulator
energy       heater, battery, inverter
tables       stock sizes, fittings, outlets, ready habits, each with its source
file         reading with every problem and its line; saving whole or not at all
problems     what is wrong, said so that one can mend it
===========  =====================================================================
"""
