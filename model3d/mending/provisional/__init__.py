"""A room as data for the page's own small judge, which knows no rule."""
