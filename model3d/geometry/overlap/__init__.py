"""What bodies and spaces share: which may meet, what is in both, and how deep."""
