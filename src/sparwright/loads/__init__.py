"""Load shares and load cases."""
