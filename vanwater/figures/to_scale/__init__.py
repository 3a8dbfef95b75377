"""The van to scale: side and plan view with its tanks, heater, outlets, filler and drains where the plan says they are.

parts        the records: what is placed, the whole
places       a plan as placed parts; what has no place keeps the addresses where it would stand
scale        round scales, the bar that shows one
frame        from metres in the van to points on the sheet
outlines     floor, road, axles, wheels, the outside; tanks and heaters with their sides
marks        parts without sides, and the centre of mass
dimensions   running dimensions and chains in the trade's manner
balloons     the numbers of the parts, where nothing else lies
lists        what the numbers stand for, and what has no place, as tables
list_pen     such a table below the drawing
drawing      the whole as one SVG
"""
