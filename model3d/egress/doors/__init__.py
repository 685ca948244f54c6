"""Doors that lead out, and leaves that stand open."""
