"""Dimensioned drawings to scale: plain data, and what it is written as."""
