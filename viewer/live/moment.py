"""A room as it stood at one moment: what takes a while is worked out of that."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from model3d.mending.provisional.record import bodies_of
from viewer.live.change import MoveError
from viewer.live.maps import map_of

if TYPE_CHECKING:
    from collections.abc import Mapping

    from model3d import Report, Scene
    from viewer.page.places import Whereabouts


@dataclass(frozen=True, slots=True)
class Moment:
    """What was known of a room.

    Attributes:
        version: Of what is shown of it.
        scene: The scene.
        places: Where its items stand, in the scene's units.
        report: What a check answered, None where that was not known yet.
    """

    version: int
    scene: Scene
    places: Mapping[str, Whereabouts]
    report: Report | None

    def map_of(self, item: str) -> dict[str, Any]:
        """Return where an item may stand, as plain data in metres.

        Raises:
            MoveError: A file that the room needs cannot be used.
        """
        try:
            return {"version": self.version, **map_of(self.scene, item, self.report)}
        except (ValueError, OSError) as error:
            raise MoveError(str(error)) from error

    def bodies(self) -> dict[str, Any]:
        """Return the bodies of the room and where its items are, as plain data.

        Raises:
            MoveError: A file that the room needs cannot be used.
        """
        try:
            record = bodies_of(self.scene)
        except (ValueError, OSError) as error:
            raise MoveError(str(error)) from error
        return {"version": self.version, "places": self.places, "record": record}
