"""The shortest way through a polygon, pulled tight."""
