"""What every question stands on: numbers with their sums and ranges, statements, findings, tables, charts, cautions."""
