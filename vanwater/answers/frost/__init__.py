"""What freezes first, after how many hours, and what holds it."""
