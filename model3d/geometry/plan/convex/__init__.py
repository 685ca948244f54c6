"""Convex shapes: a plan in convex pieces, and where two bodies stand nearest."""
