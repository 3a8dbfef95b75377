"""How long we can stay out: Days of each store, what ends the stay, what would make it longer."""
