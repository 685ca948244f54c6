"""Words that need a place on a drawing, and where there is room for them."""
