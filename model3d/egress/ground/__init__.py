"""The floor that people can walk on, and what narrows it."""
