"""Bodies: boxes, meshes, prisms, upright columns; cut, and seen in somebody's frame."""
