"""The figures of the scene format's page, each as SVG."""

from __future__ import annotations

from typing import TYPE_CHECKING, Final

from model3d.scene.handbook.pen import ACCENT, INK, DiagramPen

if TYPE_CHECKING:
    from collections.abc import Callable

_PALE: Final = "#f4f5f7"
_SLANTED: Final = 45


def along() -> DiagramPen:
    """Draw that along runs from a wall's left end as who faces it sees it."""
    pen = DiagramPen(
        624,
        390,
        "Plan of a room: along runs from the left end of each wall, as seen by whoever "
        "stands inside and faces that wall",
    )
    left, top, right, low = 130, 60, 470, 320
    pen.box((left, top), (right - left, low - top), fill=_PALE, colour="none")
    for start, end in (
        ((left - 3, top - 3), (right + 3, top - 3)),
        ((right + 3, top - 3), (right + 3, low + 3)),
        ((right + 3, low + 3), (left - 3, low + 3)),
        ((left - 3, low + 3), (left - 3, top - 3)),
    ):
        pen.wall(start, end)
    pen.box((left + 120, top), (90, 34))
    pen.box((right - 34, top + 90), (34, 80))
    pen.box((right - 210, low - 34), (90, 34))
    pen.box((left, low - 170), (34, 80))
    pen.arrow((left, top + 48), (left + 120, top + 48))
    pen.arrow((right - 48, top), (right - 48, top + 90))
    pen.arrow((right, low - 48), (right - 120, low - 48))
    pen.arrow((left + 48, low), (left + 48, low - 90))
    pen.words((left + 64, top + 66), "along", key=True)
    pen.words((right - 56, top + 42), "along", key=True, anchor="end")
    pen.words((right - 60, low - 58), "along", key=True)
    pen.words((left + 56, low - 30), "along", key=True, anchor="start")
    pen.words((300, 184), "inside the room,")
    pen.words((300, 201), "facing the wall")
    pen.words((300, 40), "wall: north")
    pen.words((300, 348), "wall: south")
    pen.words((486, 195), "wall: east", anchor="start")
    pen.words((114, 195), "wall: west", anchor="end")
    pen.words((122, 48), "left end of north", anchor="end", size=11)
    pen.words((480, 48), "left end of east", anchor="start", size=11)
    pen.words((480, 342), "left end of south", anchor="start", size=11)
    pen.words((122, 342), "left end of west", anchor="end", size=11)
    pen.line((566, 380), (566, 350), wide=1.4)
    pen.line((561, 358), (566, 348), wide=1.4)
    pen.line((571, 358), (566, 348), wide=1.4)
    pen.words((582, 368), "N")
    return pen


def facing() -> DiagramPen:
    """Draw where a front points to."""
    pen = DiagramPen(
        620,
        212,
        "Plan of five items: facing is the direction that the front points to, north, "
        "east, south, west, or degrees clockwise from north",
    )
    rows = (
        ("north", "0", 0, (0.0, -1.0)),
        ("east", "90", 90, (1.0, 0.0)),
        ("south", "180", 180, (0.0, 1.0)),
        ("west", "270", 270, (-1.0, 0.0)),
        ("45", "north-east", 45, (0.7071, -0.7071)),
    )
    for number, (word, other, turn, (x, y)) in enumerate(rows):
        cx, cy = 62 + 124 * number, 74
        pen.box((cx - 32, cy - 17), (64, 34), turn=turn)
        # The front is the long side that is drawn bold.
        pen.line(
            (cx + x * 17 - y * 32, cy + y * 17 + x * 32),
            (cx + x * 17 + y * 32, cy + y * 17 - x * 32),
            wide=4,
        )
        pen.arrow((cx + x * 20, cy + y * 20), (cx + x * 52, cy + y * 52))
        pen.dot((cx, cy))
        pen.words((cx, 152), f"facing: {word}", key=True)
        pen.words((cx, 170), f"or {other}" if turn != _SLANTED else other, size=12)
    note = "dot: at, the middle of the footprint; bold side: the front"
    pen.words((310, 200), note, size=12)
    return pen


def gap() -> DiagramPen:
    """Draw the clear distance behind an item at a wall."""
    pen = DiagramPen(
        560,
        200,
        "Plan of an item before a wall: gap is the clear distance between the wall and "
        "the back of the item, along is to its left side",
    )
    pen.wall((60, 28), (460, 28))
    pen.wall((56, 25), (56, 170))
    pen.box((200, 70), (160, 60))
    pen.line((200, 130), (360, 130), wide=4)
    pen.arrow((280, 32), (280, 70), both=True)
    pen.words((290, 56), "gap", key=True, anchor="start")
    pen.arrow((60, 100), (200, 100))
    pen.words((130, 92), "along", key=True)
    pen.words((280, 105), "the item")
    pen.words((280, 152), "its front")
    pen.words((372, 56), "its back is to the wall", anchor="start", size=12)
    return pen


def stands_on() -> DiagramPen:
    """Draw how depths line up where an item stands on another."""
    pen = DiagramPen(
        620,
        230,
        "Three side views of an item on a pad: align back, centre and front line up "
        "the depths",
    )
    for number, (word, move) in enumerate((("back", 0), ("centre", 20), ("front", 40))):
        x = 40 + 200 * number
        pen.box((x + 10, 150), (130, 24))
        pen.box((x + 10 + move, 60), (90, 90), fill=_PALE)
        pen.line((x - 6, 174), (x + 170, 174), wide=2)
        pen.words((x + 38, 167), "pad", size=12)
        pen.words((x + 32 + move, 108), "T1", size=12)
        pen.words((x + 75, 40), f"align: {word}", key=True)
        edge = x + {"back": 10, "centre": 75, "front": 140}[word]
        pen.line((edge, 50), (edge, 182), colour=ACCENT, dash="5 3")
        pen.words((x + 10, 196), "back", size=11)
        pen.words((x + 140, 196), "front", size=11)
    note = "seen from the side; widths are centred; shift: [right, out, up] moves it"
    pen.words((310, 220), note, size=12)
    return pen


def over() -> DiagramPen:
    """Draw an item over another one, with the gap between them."""
    pen = DiagramPen(
        620,
        290,
        "Front and side view of a wireway over a panelboard: gap is the clear height "
        "between them, widths are centred, align back",
    )
    pen.box((120, 110), (110, 130))
    pen.box((75, 50), (200, 34), fill=_PALE)
    pen.line((40, 262), (300, 262), wide=2)
    pen.line((175, 40), (175, 250), colour=ACCENT, dash="5 3")
    pen.arrow((250, 84), (250, 110), both=True)
    pen.words((260, 102), "gap", key=True, anchor="start")
    pen.words((148, 182), "LP1")
    pen.words((120, 72), "WW1")
    pen.words((175, 282), "front: widths are centred", size=12)
    pen.wall((396, 30), (396, 262))
    pen.box((400, 110), (40, 130))
    pen.box((400, 50), (80, 34), fill=_PALE)
    pen.line((380, 262), (580, 262), wide=2)
    pen.line((400, 40), (400, 250), colour=ACCENT, dash="5 3", wide=2)
    pen.words((452, 180), "LP1", anchor="start")
    pen.words((490, 72), "WW1", anchor="start")
    pen.words((490, 104), "over: LP1", key=True, anchor="start")
    pen.words((490, 122), "align: back", key=True, anchor="start")
    pen.words((480, 282), "side: backs line up", size=12)
    return pen


def tiers() -> DiagramPen:
    """Draw a rack with two tiers from in front and from the side."""
    pen = DiagramPen(
        730,
        380,
        "Front and side view of a battery rack with two tiers: shelf, cell, post, "
        "shelf_thickness, top_clearance and offset",
    )
    low, left, right = 330, 130, 350
    pen.line((70, low), (660, low), wide=2)
    for shelf in (290, 160):
        pen.box((left, shelf), (right - left, 12), fill="#c9ced6")
        for cell in range(5):
            x = left + 25 + 34 * cell
            pen.box((x, shelf - 70), (34, 70), fill=_PALE)
            pen.box((x + 12, shelf - 78), (10, 8), fill=INK)
    for x in (left, right):
        pen.line((x, 60), (x, low), wide=2.5)
    pen.arrow((108, low), (108, 160))
    pen.words((100, 250), "shelf", key=True, anchor="end")
    pen.line((102, 160), (left, 160), colour=ACCENT, wide=0.8)
    pen.arrow((155, 206), (189, 206), both=True)
    pen.words((172, 199), "cell", key=True)
    pen.arrow((365, 90), (365, 160), both=True)
    pen.words((373, 130), "cell (height)", key=True, anchor="start")
    pen.arrow((365, 82), (365, 40), both=True)
    pen.words((373, 64), "top_clearance", key=True, anchor="start")
    pen.line((330, 82), (372, 82), colour=ACCENT, wide=0.8)
    pen.words((373, 88), "post: the black terminal", anchor="start", size=11)
    pen.words((373, 172), "shelf_thickness", key=True, anchor="start")
    pen.line((352, 166), (371, 168), colour=ACCENT, wide=0.8)
    pen.words((240, 366), "front: cells side by side, centred", size=12)
    pen.wall((536, 40), (536, low))
    for x in (544, 640):
        pen.line((x, 60), (x, low), wide=2.5)
    for shelf, offset in ((290, 0), (160, 46)):
        pen.box((544, shelf), (96, 12), fill="#c9ced6")
        pen.box((590 - offset, shelf - 70), (50, 70), fill=_PALE)
    pen.arrow((640, 120), (594, 120), both=True)
    pen.words((648, 118), "offset", key=True, anchor="start")
    pen.words((648, 256), "0", key=True, anchor="start")
    pen.words((596, 366), "side: its front on the right", size=12)
    return pen


def leaves() -> DiagramPen:
    """Draw leaves on a front, and how they swing."""
    pen = DiagramPen(
        640,
        430,
        "Front view and plan of an item with two leaves: hinge, width, offset, sill "
        "and height",
    )
    pen.box((120, 40), (240, 200))
    pen.box((120, 66), (110, 150), fill=_PALE)
    pen.box((240, 66), (110, 150), fill=_PALE)
    for x in (120, 350):
        for y in (84, 192):
            pen.box((x - 3, y), (6, 14), fill=INK)
    pen.words((175, 132), "hinge: left", key=True, size=12)
    pen.words((295, 132), "hinge: right", key=True, size=12)
    pen.arrow((240, 160), (350, 160), both=True)
    pen.words((295, 178), "width", key=True)
    pen.arrow((380, 240), (380, 216), both=True)
    pen.words((390, 233), "sill", key=True, anchor="start")
    pen.line((352, 216), (386, 216), colour=ACCENT, wide=0.8)
    pen.arrow((380, 210), (380, 66), both=True)
    pen.words((390, 142), "height", key=True, anchor="start")
    pen.line((352, 66), (386, 66), colour=ACCENT, wide=0.8)
    pen.arrow((120, 22), (240, 22))
    pen.words((180, 16), "offset", key=True, size=12)
    pen.line((240, 22), (240, 66), colour=ACCENT, wide=0.8, dash="3 3")
    pen.words((100, 140), "from in front", anchor="end", size=12)
    pen.box((120, 276), (240, 30))
    pen.line((120, 306), (360, 306), wide=4)
    for hinge, free in ((120, 230), (350, 240)):
        pen.line((hinge, 306), (hinge, 416), wide=2)
        pen.arc((hinge, 306), (free, 306), (hinge, 416))
    pen.words((100, 296), "from above", anchor="end", size=12)
    pen.words((375, 330), "the front", anchor="start", size=12)
    return pen


def repeat() -> DiagramPen:
    """Draw copies in a row."""
    pen = DiagramPen(
        640,
        240,
        "Plan of copies: step runs from the left side of one to the left side of the "
        "next, to the right as seen from in front; touching sets them side by side",
    )
    pen.wall((30, 30), (610, 30))
    for number in range(3):
        x = 50 + 84 * number
        pen.box((x, 34), (54, 34))
        pen.line((x, 68), (x + 54, 68), wide=3)
        pen.words((x + 27, 56), f"P{number + 1}", size=12)
    pen.arrow((50, 84), (134, 84))
    pen.words((92, 102), "step", key=True)
    pen.words((165, 126), "repeat: {count: 3, step: 700}", size=12)
    for number in range(4):
        x = 350 + 60 * number
        pen.box((x, 34), (60, 44))
        pen.line((x, 78), (x + 60, 78), wide=3)
        pen.words((x + 30, 62), f"S{number + 1}", size=12)
    pen.words((470, 102), "touching", key=True)
    pen.words((470, 126), "repeat: {count: 4, touching: true}", size=12)
    for number in range(3):
        y = 160 + 18 * number
        pen.line((240, y), (480, y), wide=5, colour="#8a919b")
        pen.words((492, y + 4), f"C{number + 1}", size=12, anchor="start")
    pen.dot((240, 160))
    pen.arrow((222, 160), (222, 178))
    pen.words((210, 176), "right", key=True, anchor="end")
    note = "a run, seen from where it begins (dot): right is across it"
    pen.words((320, 228), note, size=12)
    return pen


FIGURES: Final[dict[str, Callable[[], DiagramPen]]] = {
    one.__name__.replace("_", "-"): one
    for one in (along, facing, gap, stands_on, over, tiers, leaves, repeat)
}
"""Every figure by its name."""
