"""What is printed at a terminal."""
