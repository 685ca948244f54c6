"""A building model's file: read in a process of its own, opened to be written into."""
