"""Many rooms at once: which of them, by how many processes, what is kept of before."""
