"""What the water weighs, and where it rests."""
