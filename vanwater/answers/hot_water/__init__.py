"""How much hot water there is, how soon again, and what it takes from the battery."""
