"""The ``standclear`` command: one file for each of its commands."""
