"""Judgements as plain data and as rows of a table."""
