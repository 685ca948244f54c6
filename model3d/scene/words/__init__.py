"""Words for what is wrong with a scene: a mistake and its place, the nearest word."""
