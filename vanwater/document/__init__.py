"""Document."""
