"""What may be inside a working space, in dwellings and across an aisle too."""
