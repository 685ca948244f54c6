"""Documents made from a report."""
