"""The page: one file for any browser, and its script."""
