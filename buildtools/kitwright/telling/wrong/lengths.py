"""Lengths and sizes that can't be read."""
