"""Where what is made goes: a file that is whole or not, a terminal."""
