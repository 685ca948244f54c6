"""The server that a page of the room talks to."""
