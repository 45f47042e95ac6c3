"""Standard atmosphere, section tables, lifting surfaces together, drag."""
