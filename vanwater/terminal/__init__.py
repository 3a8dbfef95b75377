"""Answers as text in a terminal: eighty columns, the verdict first, plain when piped.

===============  =========================================================================
screen           where text goes: width, units, colour or none, what the encoding can show
transliteration  signs that an encoding lacks, written in plain letters
tables           a table of an answer as right-aligned columns, one unit a column
paragraphs       findings, cautions and assumptions as short paragraphs
overview         the whole van in some fifty lines, or everything
unfold           one number unfolded to its sum, or every key that can be unfolded
why              what is typed after --why: a key, a part of one, an address
measured         what was measured of a number, beside its sum
address          one address of the plan: value, meaning, line of the file
json_form        the same for programs: every number in SI under a stable key
memory           the memory of a command that ends soon
refusal          what cannot be done, on the error stream
starter          a plan to begin with, short or with every field explained
stock            what a plan may name, as tables
compare          two plans side by side
lab              the notebooks, copied and opened
===============  =========================================================================
"""
