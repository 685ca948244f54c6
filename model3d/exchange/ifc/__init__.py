"""Building models (IFC) in and out."""
