"""The answer about an item's places as plain data: millimetres, rounded once."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from model3d.geometry.intervals import merged
from model3d.geometry.plan import flat
from model3d.mending.placing.best import Best, best_place

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from model3d.geometry.frame import Corner
    from model3d.judging.results import Judgement
    from model3d.mending.map.free import Free
    from model3d.mending.map.places import Places


@dataclass(frozen=True, slots=True)
class PlaceAnswer:
    """Where an item may stand, and where best.

    Attributes:
        places: The maps.
        best: The roomiest place that was proved; None where there is none.
        failed: What a check of the whole scene found at roomier places.
    """

    places: Places
    best: Best | None
    failed: tuple[Judgement, ...]

    def document(self) -> dict[str, Any]:
        """Return the contract's JSON document."""
        found: dict[str, Any] = {"format": 1, "item": self.places.item}
        walls = [one for one in self.places.maps if one.stance.on_wall]
        floor = [one for one in self.places.maps if not one.stance.on_wall]
        if walls or not floor:
            found["walls"] = [_wall(one) for one in walls]
        if floor:
            found["floor"] = [
                {"facing": one.stance.facing, "regions": _regions(one, one.area)}
                for one in floor
            ]
        if self.best is not None:
            place = self.best.place.model_dump(exclude_unset=True)
            found["best"] = {"place": place, "margin": _mm(self.best.margin)}
        else:
            found["best"] = None
        found["barred"] = self.barred()
        found["open"] = self.open()
        return found

    def barred(self) -> list[dict[str, str]]:
        """Return what bars places: the thing, the requirement and its item."""
        told = set(self.places.barred)
        for judged in self.failed:
            names = {one.item for one in judged.intrusions} or {self.places.item}
            told |= {(name, judged.requirement, judged.subject) for name in names}
        return [
            {"by": by, "requirement": requirement, "of": of}
            for by, requirement, of in sorted(told)
        ]

    def open(self) -> list[dict[str, Any]]:
        """Return what is open at free places, and where as far as that is known."""
        found: list[dict[str, Any]] = []
        for one in self.places.maps:
            for bar, there in one.opens():
                told: dict[str, Any] = {
                    "requirement": bar.requirement,
                    "of": bar.of,
                    "by": list(bar.by),
                }
                if bar.why:
                    told["why"] = bar.why
                if one.stance.wall is not None:
                    pairs = merged(_along(one, part) for part in flat.get_parts(there))
                    along = [[low, high] for low, high in pairs]
                    told |= {"wall": one.stance.wall.name, "along": along}
                else:
                    told |= {
                        "facing": one.stance.facing,
                        "regions": _regions(one, there),
                    }
                found.append(told)
        best = self.best.doubts if self.best else ()
        found += [
            {
                "requirement": judged.requirement,
                "of": judged.subject,
                "why": judged.missing or judged.reason,
                "at": "best",
            }
            for judged in best
        ]
        return found


def answer(places: Places) -> PlaceAnswer:
    """Find the best place of an item, and make the answer of it."""
    best, failed = best_place(places)
    return PlaceAnswer(places, best, failed)


def _wall(one: Free) -> dict[str, Any]:
    name = one.stance.wall.name if one.stance.wall else ""
    return {"wall": name, "along": [[_tenth(a), _tenth(b)] for a, b in one.intervals]}


def _along(one: Free, part: flat.Geometry) -> tuple[float, float]:
    dx, dy = one.stance.along
    ends = [x * dx + y * dy for x, y in flat.get_coordinates(part)]
    return _tenth(min(ends)), _tenth(max(ends))


def _regions(one: Free, area: flat.Geometry) -> list[dict[str, Any]]:
    """Return regions of the footprint's middle, the largest first."""
    parts = [part for part in flat.get_parts(area) if part.area > 0]
    parts.sort(key=lambda part: (-round(part.area, 6), part.bounds))
    middle = one.stance.middle
    return [
        {
            "outer": _ring(part.exterior.coords, middle),
            "holes": [_ring(ring.coords, middle) for ring in part.interiors],
        }
        for part in parts
    ]


def _ring(corners: Iterable[Corner], middle: Corner) -> list[list[float]]:
    """Return a ring's corners in millimetres, its first not repeated."""

    def told() -> Iterator[list[float]]:
        for x, y in corners:
            yield [_tenth(x + middle[0]), _tenth(y + middle[1])]

    ring = list(told())[:-1]
    return [at for n, at in enumerate(ring) if at != ring[n - 1]] or ring[:1]


def _tenth(metres: float) -> float:
    """Return millimetres to the tenth: within contact, and free of noise."""
    return float(round(metres * 1000, 1)) + 0.0


def _mm(metres: float) -> float:
    return round(metres * 1000, 2) + 0.0
