"""Shapes that stand in files of other programs."""
