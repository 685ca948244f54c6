"""What is given to several commands: arguments, scene files, one scene."""
