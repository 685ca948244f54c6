"""Clouds of points: their files, and which of their points count."""
