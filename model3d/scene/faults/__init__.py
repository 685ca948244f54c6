"""From the library's errors to mistakes: what was found, what would be right."""
