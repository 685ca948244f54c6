"""What an element of a model is as gear: its kind, its rating, its front."""
