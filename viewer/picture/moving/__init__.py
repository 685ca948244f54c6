"""Pictures that move: films, their files, a door leaf that opens."""
