"""Files of shapes that a scene names: meshes and clouds of points, in metres."""
