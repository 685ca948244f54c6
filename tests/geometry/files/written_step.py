"""STEP text of a box and of a cylinder, written out of ISO 10303-21, -42 and -214."""

from __future__ import annotations

import re
from typing import Final

MILLIMETRE: Final = "(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT(.MILLI.,.METRE.))"
UNITS: Final = {
    "mm": f"#2={MILLIMETRE};",
    "m": "#2=(LENGTH_UNIT()NAMED_UNIT(*)SI_UNIT($,.METRE.));",
    "in": (
        "#2=(CONVERSION_BASED_UNIT('INCH',#90)LENGTH_UNIT()NAMED_UNIT(#91));\n"
        "#90=LENGTH_MEASURE_WITH_UNIT(LENGTH_MEASURE(25.4),#92);\n"
        "#91=DIMENSIONAL_EXPONENTS(1.,0.,0.,0.,0.,0.,0.);\n"
        f"#92={MILLIMETRE};"
    ),
}
"""Statements of a unit of length."""
A_UNIT: Final = {"mm": 1.0, "m": 1000.0, "in": 25.4}
"""Millimetres."""
HEAD: Final = """\
ISO-10303-21;
HEADER;
FILE_DESCRIPTION((''),'2;1');
FILE_NAME('','2026-01-01T00:00:00',(''),(''),'','','');
FILE_SCHEMA(('AUTOMOTIVE_DESIGN { 1 0 10303 214 1 1 1 1 }'));
ENDSEC;
DATA;
#1=(GEOMETRIC_REPRESENTATION_CONTEXT(3)GLOBAL_UNCERTAINTY_ASSIGNED_CONTEXT((#5))\
GLOBAL_UNIT_ASSIGNED_CONTEXT((#2,#3,#4))REPRESENTATION_CONTEXT('',''));
"""
TAIL: Final = """\
#3=(NAMED_UNIT(*)PLANE_ANGLE_UNIT()SI_UNIT($,.RADIAN.));
#4=(NAMED_UNIT(*)SI_UNIT($,.STERADIAN.)SOLID_ANGLE_UNIT());
#5=UNCERTAINTY_MEASURE_WITH_UNIT(LENGTH_MEASURE(1.E-07),#2,'','');
#20=APPLICATION_CONTEXT('automotive design');
#21=APPLICATION_PROTOCOL_DEFINITION('international standard','automotive_design',\
2000,#20);
#22=PRODUCT_CONTEXT('',#20,'mechanical');
#23=PRODUCT('body #1; it''s one','body','',(#22));
#24=PRODUCT_DEFINITION_FORMATION('','',#23);
#25=PRODUCT_DEFINITION_CONTEXT('part definition',#20,'design');
#26=PRODUCT_DEFINITION('design','',#24,#25);
#27=PRODUCT_DEFINITION_SHAPE('','',#26);
#28=SHAPE_DEFINITION_REPRESENTATION(#27,#10);
ENDSEC;
END-ISO-10303-21;
"""

Corner = tuple[float, float, float]


class _Pen:
    """Statements, each with its number."""

    def __init__(self) -> None:
        self.lines: list[str] = []
        self.edges: dict[tuple[Corner, Corner], str] = {}
        self.ends: dict[Corner, str] = {}

    def add(self, said: str) -> str:
        name = f"#{100 + len(self.lines)}"
        self.lines.append(f"{name}={said};")
        return name

    def triple(self, what: str, at: Corner) -> str:
        return self.add(f"{what}('',({','.join(str(float(a)) for a in at)}))")

    def axes(self, at: Corner, up: Corner, right: Corner) -> str:
        point = self.triple("CARTESIAN_POINT", at)
        up_, right_ = self.triple("DIRECTION", up), self.triple("DIRECTION", right)
        return self.add(f"AXIS2_PLACEMENT_3D('',{point},{up_},{right_})")

    def end(self, at: Corner) -> str:
        if at not in self.ends:
            point = self.triple("CARTESIAN_POINT", at)
            self.ends[at] = self.add(f"VERTEX_POINT('',{point})")
        return self.ends[at]

    def oriented(self, edge: str, sign: str) -> str:
        return self.add(f"ORIENTED_EDGE('',*,*,{edge},.{sign}.)")

    def line(self, a: Corner, b: Corner) -> str:
        """Return the edge from one corner to another, oriented."""
        if (b, a) in self.edges:
            return self.oriented(self.edges[b, a], "F")
        if (a, b) not in self.edges:
            way = [q - p for p, q in zip(a, b, strict=True)]
            long = sum(map(abs, way))
            x, y, z = (one / long for one in way)
            vector = self.add(f"VECTOR('',{self.triple('DIRECTION', (x, y, z))},1.)")
            line = self.add(f"LINE('',{self.triple('CARTESIAN_POINT', a)},{vector})")
            ends = f"{self.end(a)},{self.end(b)}"
            self.edges[a, b] = self.add(f"EDGE_CURVE('',{ends},{line},.T.)")
        return self.oriented(self.edges[a, b], "T")

    def face(self, edges: list[str], surface: str, sign: str = "T") -> str:
        loop = self.add(f"EDGE_LOOP('',({','.join(edges)}))")
        bound = self.add(f"FACE_OUTER_BOUND('',{loop},.T.)")
        return self.add(f"ADVANCED_FACE('',({bound}),{surface},.{sign}.)")

    def text(self, faces: list[str], unit: str) -> str:
        shell = self.add(f"CLOSED_SHELL('',({','.join(faces)}))")
        body = self.add(f"MANIFOLD_SOLID_BREP('',{shell})")
        axes = self.axes((0, 0, 0), (0, 0, 1), (1, 0, 0))
        shape = f"#10=ADVANCED_BREP_SHAPE_REPRESENTATION('',({axes},{body}),#1);"
        return "\n".join([HEAD + UNITS[unit], *self.lines, shape, TAIL])


def box(width: float, depth: float, height: float, unit: str = "mm") -> str:
    """Return a box as STEP text; sizes in millimetres, written in a unit."""
    pen = _Pen()
    size = [one / A_UNIT[unit] for one in (width, depth, height)]
    faces = []
    for axis in range(3):
        across, up = (axis + 1) % 3, (axis + 2) % 3
        for side in (0, 1):
            loop = []
            for i, j in ((0, 0), (1, 0), (1, 1), (0, 1)):
                at = [0.0, 0.0, 0.0]
                at[axis], at[across], at[up] = (
                    share * size[one]
                    for share, one in ((side, axis), (i, across), (j, up))
                )
                loop.append((at[0], at[1], at[2]))
            if not side:
                loop.reverse()
            normal, right = [0.0] * 3, [0.0] * 3
            normal[axis], right[across] = (1.0 if side else -1.0), 1.0
            plane = pen.axes(
                loop[0],
                (normal[0], normal[1], normal[2]),
                (right[0], right[1], right[2]),
            )
            around = zip(loop, loop[1:] + loop[:1], strict=True)
            edges = [pen.line(a, b) for a, b in around]
            faces.append(pen.face(edges, pen.add(f"PLANE('',{plane})")))
    return pen.text(faces, unit)


def cylinder(radius: float, height: float, unit: str = "mm") -> str:
    """Return an upright cylinder as STEP text; millimetres, written in a unit."""
    pen = _Pen()
    r, high = radius / A_UNIT[unit], height / A_UNIT[unit]
    rings, planes = [], []
    for z in (0.0, high):
        axes = pen.axes((0, 0, z), (0, 0, 1), (1, 0, 0))
        end = pen.end((r, 0.0, z))
        circle = pen.add(f"CIRCLE('',{axes},{r})")
        rings.append(pen.add(f"EDGE_CURVE('',{end},{end},{circle},.T.)"))
        planes.append(axes)
    low, top = rings
    seam = [pen.line((r, 0.0, 0.0), (r, 0.0, high))]
    back = pen.line((r, 0.0, high), (r, 0.0, 0.0))
    side = pen.add(f"CYLINDRICAL_SURFACE('',{planes[0]},{r})")
    edges = [pen.oriented(low, "T"), *seam, pen.oriented(top, "F"), back]
    faces = [
        pen.face(edges, side),
        pen.face([pen.oriented(low, "F")], pen.add(f"PLANE('',{planes[0]})"), "F"),
        pen.face([pen.oriented(top, "T")], pen.add(f"PLANE('',{planes[1]})")),
    ]
    return pen.text(faces, unit)


def without(text: str, what: str) -> str:
    """Return STEP text without its first statement of a sort."""
    return re.sub(rf"^#\d+={what}\(.*\n", "", text, count=1, flags=re.MULTILINE)
