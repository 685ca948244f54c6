"""What was moved, written into the scene file; all else in it stays as it is."""
