"""A room as one GLB file: every part has its name, and says what it is."""

from __future__ import annotations

from model3d.geometry.files.mesh_parts import MeshPart, glb

__all__ = ["MeshPart", "glb"]
