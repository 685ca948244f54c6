"""What closed lines of a plan enclose, and what of a line a window shows."""
