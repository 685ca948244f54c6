"""What closed lines of a plan enclose, the outer edge of a body, and a window."""
