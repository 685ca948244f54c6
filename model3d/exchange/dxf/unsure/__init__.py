"""What of a plan is not known: layers without a meaning, and what was not read."""
