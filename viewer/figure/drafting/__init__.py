"""What a drawing is made of: lines, hatches, labels on paper; it knows no room."""
