"""What the water and all else takes from the battery, state by state, and what puts it back."""
