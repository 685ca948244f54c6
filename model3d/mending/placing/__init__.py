"""The place that is told of a map: the best, the nearest, for an item that is new."""
