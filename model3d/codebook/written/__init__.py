"""What stands in a table's text: its keys, its blocks, its values, its lengths."""
