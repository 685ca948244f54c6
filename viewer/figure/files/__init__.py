"""What a figure is written as, in its frame with the title block."""
