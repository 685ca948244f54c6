"""Stills and films, drawn off-screen."""
