"""What the outlets give on the water of a campsite."""
