"""The controls as a mechanism: how far, how geared, how tight, and what they meet on their way."""
