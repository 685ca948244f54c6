"""A plan's file: its entities as plain lines, read in a process of its own."""
