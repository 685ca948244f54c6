"""What stands in a room, as a drawing shows it from one side."""
