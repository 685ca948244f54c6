"""A list of equipment in: its columns, its words, its rows as items."""
