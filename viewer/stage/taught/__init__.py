"""A lesson: a stage for each step, and how one goes through it."""
