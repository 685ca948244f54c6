"""Files of millions of triangles."""
