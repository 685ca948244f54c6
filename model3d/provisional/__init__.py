"""A room as data for a small judge of its own: bodies, spaces, and what may be inside.

What is told here serves an answer that is provisional; the check stays the reference.
All lengths are whole tenths of a millimetre.
"""
