"""What a person writes: a scene, read from a file or made in Python."""
