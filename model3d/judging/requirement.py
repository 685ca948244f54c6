"""What a rule's requirement is called: its module's name, which stands once."""

from __future__ import annotations


def requirement_of(module: str) -> str:
    """Return the requirement of a rule from the name of its module.

    >>> requirement_of("model3d.rules.door_swing")
    'door-swing'
    """
    return module.rpartition(".")[2].replace("_", "-")
