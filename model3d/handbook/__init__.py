"""The page of the scene format: every key, its figures, made from the models."""
