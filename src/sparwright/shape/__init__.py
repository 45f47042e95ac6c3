"""Sections, lifting surfaces, fuselage frame: geometry only."""
