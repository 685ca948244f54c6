"""What each command does: one file a command, with a function ``run``."""
