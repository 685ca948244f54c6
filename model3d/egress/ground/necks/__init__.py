"""The narrow places of a floor: the necks."""
