"""What stands in a room and what it needs, as shapes."""
