"""Other designs beside the plan: what they come to, how they differ, which is the smallest that works.

sweep            every number of the answers for many values of one or several addresses
rows             those of some rows: of one batch, or each a plan of its own
designs          the values of a sweep: read and checked before anything is computed
sweep_chart      one number of a sweep as curves or bars
variants         a plan and up to four variants side by side, with the range of each difference
variants_table   those as tables
variants_chart   and as charts, drawn together
headline         the numbers that a comparison tells first
turned           findings that come, go, get worse or better
altered          what two plans say differently
prices           what parts cost, where the shelf says it
ready            comparisons that make sense for every van: filter, accumulator, tank, heat, hose
tornado          what moves a number, the strongest first
smallest         the smallest size sold that meets a wish, with the next smaller one that does not
wish             a number with a bound, typed or the plan's own
ladder           the sizes of a part that are sold, the smallest first
asked            one number for many designs, along rows where they can be
known            numbers by their keys
"""
