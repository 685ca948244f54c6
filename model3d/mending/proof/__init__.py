"""A remedy, and the second check that proves it."""
