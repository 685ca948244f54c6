"""What people see: it reads results, and never the rules."""
