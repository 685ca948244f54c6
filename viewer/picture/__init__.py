"""Stills and films, drawn off-screen by pyvista."""
