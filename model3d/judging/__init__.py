"""From what a rule wants clear to a verdict: measured, compared, told."""
