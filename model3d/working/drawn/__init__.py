"""What may be drawn in what, and what cannot be."""
