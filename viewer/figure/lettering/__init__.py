"""Dimensions as one chain, the key, notes below a drawing."""
