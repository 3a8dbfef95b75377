"""What was measured on the van that was built, beside what the plan expects of it."""
