"""A room that is worked on: one session, saving, the server."""
