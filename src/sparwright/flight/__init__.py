"""Trim, stall, performance, stability."""
