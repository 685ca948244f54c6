"""Whether what is drawn can stand so: what may pass through what, and what may not."""
