"""How tanks and lines are sanitised: dose, contact, flush."""
