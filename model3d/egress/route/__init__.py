"""The search for a way, and what is told of one."""
