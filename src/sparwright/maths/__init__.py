"""Splines, closed curves, section integrals, beams."""
