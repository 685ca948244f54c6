"""What stands: every item of a scene as a body in its place, in metres."""
