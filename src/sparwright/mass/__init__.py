"""Weights, balance, inertia."""
