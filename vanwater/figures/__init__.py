"""Charts of answers: one description, two pens.

==============  ==========================================================
drawing         the pen for what follows a slider and for what is printed: SVG
screen          the pen for a large picture: plotly
data            the numbers of a chart as a table and as a table file
labels, layout  where titles, ticks and names go, so that none covers another
sheet, roles    a chart laid out; what each role looks like
schematic       the plumbing as a drawing
to_scale        the van to scale, from the side and from above
themed          a drawing that is dark where its page is
==============  ==========================================================
"""

from vanwater.figures.screen import plotly_figure

__all__ = ["plotly_figure"]
