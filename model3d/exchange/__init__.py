"""Whole models and lists in and out: one format, one file."""
