"""vanwater: the water of a camper van, worked out before a hole is cut."""

__version__ = "0.1.0"
