"""The document: the customer's rationale with its sums, one self-contained page for screen and paper.

============  ====================================================================
html          render and write: the whole page, nothing asked for from anywhere
book          everything that stands in it, numbered, before it is a page
first_page    the answer, what ends a stay, what to know first, the cautions
sections      each answer with its charts, tables, findings, assumptions, cautions
sheets        tables: unit in the heading, numbers set right
pictures      charts as checked inline drawings
sums          every sum once, numbered, found again from its number
sources       every source once, numbered
plan_listing  the plan as decided, address by address; whose word each value is
undecided     what the plan does not say yet
stock         rows of the stock tables that the plan names
glossary      the trade's terms, each explained once
short         the customer's pages and the workshop's sheet
history       revisions in the title block: which is signed, and whether the plan changed since
handover      what every question adds to them
chosen        what was not built, and what it would have given
card          first use, before frost, cautions and tags, on one sheet for the van
measured      what is to be measured, and what was, beside what is expected
change_order  what becomes of a plan: in words, figures, parts and drawings
plumbing      the drawing and its lists
to_scale      the van to scale and its lists
validation    the published cases that the sums were held against
lean          what a page may leave out without saying less
words         amounts and texts as they stand on a page
output_file   where a paper, a drawing, a table or a copy of a plan may be written
order_csv     what to order, as a table file
markdown      the same papers as Markdown
pdf           the same papers as PDF, by a browser of this computer
papers        the three papers; each thing that is written in its form
writings      what can be written of a plan, for the command and the bench
hand_on       what is wanted of it and the plan, handed on together
============  ====================================================================
"""
