"""From where one looks, and what is seen from there."""
