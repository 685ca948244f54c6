"""Shapes only: no word of electricity, law or screens."""
