"""Other designs beside the plan: one or several of its values, told for a whole range at once.

sweep            every number of the answers for many values of one or several addresses
rows             those of some rows: of one batch, or each a plan of its own
designs          the values of a sweep: read and checked before anything is computed
"""
