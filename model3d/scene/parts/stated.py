"""What is said of a place as a whole, at the scene or in its room."""

from typing import Literal

from model3d.scene.parts.part import Flag, Part, PositiveLength, Words


class Lighting(Part):
    """The lighting of a room."""

    present: Flag = True
    """Whether the working spaces are lit."""
    control: Literal["manual", "automatic", "both"] | None = None
    """What switches it: a person, automatic means alone, or both."""


class Stated(Part):
    """What nobody can see in the geometry of a place, and must be said."""

    lighting: Lighting | None = None
    """The lighting, and what switches it."""
    access_opening: tuple[PositiveLength, PositiveLength] | None = None
    """Width and length of the opening to a crawl space or a space above a ceiling."""
    written_procedures: Flag | None = None
    """Where gear is replaced in existing premises: whether written procedures keep
    both sides of an aisle from being open at once."""
    high_voltage_separated: Flag | None = None
    """Whether a partition, fence or screen parts high-voltage equipment off."""
    serves_only_this_room: Flag | None = None
    """In a high-voltage vault: whether its low-voltage gear serves the vault alone and
    only qualified persons have access."""
    ceiling_material: Words | None = None
    """What the structural ceiling is made of."""
