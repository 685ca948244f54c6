"""Where people at a front are when its doors are opened, and what is left to each."""
