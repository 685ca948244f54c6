"""What a scene says about its drawings; nothing is judged by it."""

from model3d.scene.parts.part import Part, Words


class Sheet(Part):
    """What a title block prints, all of it text and all of it optional."""

    project: Words | None = None
    """Name of the project."""
    number: Words | None = None
    """Number of the drawing."""
    revision: Words | None = None
    """Revision of the drawing."""
    date: Words | None = None
    """Date of the drawing, as it shall be printed."""
    drawn: Words | None = None
    """Who drew it."""
    checked: Words | None = None
    """Who checked it."""
    address: Words | None = None
    """Where the room is."""
    note: Words | None = None
    """A note for whoever reads it."""
