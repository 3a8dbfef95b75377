"""The plumbing of a van as a drawing: every piece, every run, from the tank to the outlet.

parts        the records: pieces, lines, the whole
pieces       what each piece is called, and what stands below its name
piping       a plan as pieces and lines, numbered along the water
placing      where it goes: layers, orthogonal lines, where two cross
room         where the words of a line find room
symbols      the shapes of the pieces
piece_pen    a piece with its number and its words
drawing      the whole as one SVG
lists        what the numbers stand for, as tables
"""
