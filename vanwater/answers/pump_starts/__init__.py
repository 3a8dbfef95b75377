"""How often the pump starts, what the accumulator does, how hard a closing tap knocks."""
