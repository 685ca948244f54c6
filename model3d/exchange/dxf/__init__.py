"""Plans in: closed lines on named layers as a room and what stands in it."""
