"""What every face says in the same words."""
