"""One maker of questions a file, named as the rule it asks about."""
