"""A scene as text: YAML with the line of every value, and its schema."""
