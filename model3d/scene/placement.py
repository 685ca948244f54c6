"""The old name of ``parts/placement.py``, until all that use it are moved."""

from model3d.scene.parts.placement import At, AtWall

__all__ = ["At", "AtWall"]
