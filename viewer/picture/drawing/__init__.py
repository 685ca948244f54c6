"""How a stage becomes pixels, and whether this machine can draw."""
