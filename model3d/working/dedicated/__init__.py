"""The space that is kept for gear above and below it, and what is over that."""
