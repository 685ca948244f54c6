"""The plan of a room, and of a way out of it."""
