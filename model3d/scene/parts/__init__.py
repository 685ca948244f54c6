"""What a person writes, part by part: the items, the room, the lesson."""
