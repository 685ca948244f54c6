"""A way out judged, with equipment doors shut and open."""
