"""Large gear: a second way out, and what makes one needless."""
