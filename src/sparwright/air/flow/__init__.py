"""Flow past a section: potential flow outside, boundary layers and wake inside, solved together."""
