"""The page of the scene format, with its figures, from the models."""
