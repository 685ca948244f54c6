"""Where an item may stand: a map in plan, made of what each requirement bars."""
