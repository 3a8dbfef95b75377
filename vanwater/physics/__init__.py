"""Physics."""
