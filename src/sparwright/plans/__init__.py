"""Drawings as data: sheets, templates, cut lists."""
