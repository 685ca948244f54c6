"""Ways out on a map: where people get out with an item there, and where they do not."""
