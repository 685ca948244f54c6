"""What of an arrangement a report tells beside its judgements."""
