"""YAML text to plain data, with the place in the text of each value."""
