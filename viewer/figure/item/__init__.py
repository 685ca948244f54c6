"""Plan, front and side of one item, and its details."""
