"""Whether every piece stands its pressure and warmth, and whether the ends fit."""
