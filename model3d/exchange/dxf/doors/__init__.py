"""The doors of a room on a plan."""
