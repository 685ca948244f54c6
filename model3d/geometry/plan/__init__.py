"""Shapes of the floor plan: outlines, what they grow to and leave, ways through."""
