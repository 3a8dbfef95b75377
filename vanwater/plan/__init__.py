"""The plan of a van's water: what the builder decides, its file, the tables of stock sizes.

The plan
    model            the whole plan; one address for every value
    household        who lives in the van, how water is used, where the van stands
    tanks            fresh, grey and toilet tanks
    supply           runs, fittings, mixing taps, outlets, accumulator
    pump             pumps of every kind, the inlet for a campsite's water
    energy           heaters of the water
    electricity      battery, inverter, what charges, what else lives on it, cables
    day              how the hours of a day are spent
    winter           frost: cold, insulation, heating pads, drained water, the van's body
    measured         what was measured on the van that was built
    vehicle          axles, outside, permitted loads, what else rides along
    places           where a part sits: behind the front axle, right of the centre line, above the floor
    habits           ready habits that fill the gaps of one's own uses
    overlay          a named set of other values for a plan
    situations       the situations of a plan: when it is used otherwise
    change           new values: whether each has its place, and what keeps it from counting
    fingerprint      a short text that tells whether two plans decide the same
    part             what every piece has in common: strict keys, frozen values
    stock            generic parts, taken by name
    sold             sizes that are sold where the plan's units are used
    shelf            the builder's own parts, from a file beside the plan
    joint            how a connection is written

Tables and addresses
    tables           stock sizes, fittings, outlets, ready habits, each with its source
    frost_tables     how fast the bodies of vans cool, how much ice bursts what
    chemistry        what a battery's cells are: what they give in the cold
    wiring           what conductors may carry, fuses that are sold
    ratings          what joints, fittings, heaters and accumulators stand
    address          one address for everything: the value there, what is known of it

The file
    file             reading with every problem and its line
    saving           a file put in its place whole or not at all, one writer at a time
    patch            one value of a text set in place, every other character kept
    statements       a text as a list of statements: the line of an address
    raw              tables as a file gives them, read without trusting them

What is wrong
    validation       every problem in one go, whatever else is wrong
    checks           names that lead nowhere or to two things
    awaited          places that are pointed at before they are written
    drawn            the runs as one graph, before they are known to be right
    waterways        ways that no water can take
    plausibility     values that are believable each, but not together
    error_messages   a validator's report as something a builder can mend
    not_toml         what is wrong with a text that is not TOML
    problems         what is wrong, said so that one can mend it
"""
