"""How a space fits a room, what the room gives of it, and where a leaf stops."""
