"""What is covered on the plan: of a rectangle, and by points."""
