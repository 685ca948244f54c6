"""Types, files of gear and repeats: what they stand for, and their limits.

The scene format, "Less typing", says what is right; there is no outside source. Where a
copy stands is compared with moving the item, which the standing tests hold.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from model3d import Scene, read_text
from model3d.scene.text.bare_words import bare_lengths, with_unit
from model3d.scene.text.composing.composer import compose
from model3d.scene.text.reader import SceneError, known_types, read_scene
from model3d.scene.text.used import used_files
from model3d.standing.moves import axes_of, moved
from model3d.units import to_metres

if TYPE_CHECKING:
    from pathlib import Path

    from model3d.scene.parts.item import Item

UNITS = ("mm", "m", "in", "ft")
HEAD = """\
title: Short
units: mm
rules: nec-2023
room: {size: [90000, 50000], height: 9000}
"""


def read(*lines: str, file: Path | str = "room.yaml") -> Scene:
    return read_text(HEAD + "\n".join(lines), file)


def items(*lines: str) -> tuple[Item, ...]:
    return read(*lines).items


def mistakes(*lines: str, file: Path | str = "room.yaml") -> list[str]:
    with pytest.raises(SceneError) as caught:
        read(*lines, file=file)
    return [str(one).replace(f"{file}:", "") for one in caught.value.mistakes]


@pytest.fixture
def gear(tmp_path: Path) -> Path:
    (tmp_path / "gear").mkdir()
    file = tmp_path / "gear" / "house.yaml"
    file.write_text(
        "units: in\n"
        "types:\n"
        "  lighting: {kind: panelboard, size: [20, 6, 36], supply: {amps: 200}}\n"
        "  pump: {kind: obstacle, mesh: pump.stl}\n",
        encoding="utf-8",
    )
    return file


def test_an_item_has_what_its_type_and_those_below_say() -> None:
    one, two = items(
        "types:",
        "  a: {kind: panelboard, size: [1, 1, 1], door: left, rear: bolted}",
        "  7: {type: a, size: [2, 2, 2], door: null}",
        "items:",
        "  - {type: 7, id: P1, size: [3, 3, 3], place: {at: [9, 9]}}",
        "  - {id: P2, type: 7, rear: null, place: {at: [9, 9]}}",
    )
    assert one.written() == {
        "id": "P1",
        "kind": "panelboard",
        "rear": "bolted",
        "size": (3, 3, 3),
        "place": {"at": (9, 9)},
    }
    assert two.written() == {
        "id": "P2",
        "kind": "panelboard",
        "size": (2, 2, 2),
        "place": {"at": (9, 9)},
    }


def test_a_gear_file_has_units_of_its_own(gear: Path) -> None:
    scene = read(
        "types_from: gear/house.yaml",
        "items: [{id: LP1, type: lighting, place: {wall: north, along: 500}}]",
        file=gear.parents[1] / "room.yaml",
    )
    (one,) = scene.items
    assert one.size is not None
    assert one.supply is not None
    assert [scene.metres(length) for length in one.size] == [0.508, 0.1524, 0.9144]
    assert one.supply.amps == 200
    assert known_types(scene)["pump"] == {
        "kind": "obstacle",
        "mesh": "gear/pump.stl",
        "units": "in",
    }


def test_a_mistake_in_a_gear_file_names_both_lines(gear: Path) -> None:
    bad = gear.read_text(encoding="utf-8").replace("6, 36", "-6, 36")
    gear.write_text(bad, encoding="utf-8")
    scene = gear.parents[1] / "room.yaml"
    lines = (
        "types_from: [gear/house.yaml]",
        "items:",
        "  - {id: LP1, type: lighting, place: {wall: north, along: 500}}",
        "  - {id: LP2, type: lighting, place: {wall: south, along: 500}}",
    )
    (said,) = mistakes(*lines, file=scene)
    assert said == (
        f"{gear}:3:43: types.lighting.size #2: found -6, right is a length above zero; "
        "used in line 7 of room.yaml (LP1) and 1 more"
    )


def test_what_does_not_fit_at_the_use_names_both_lines(gear: Path) -> None:
    (said,) = mistakes(
        "types_from: gear/house.yaml",
        "items:",
        "  - {id: LP1, type: lighting, kind: pipe, place: {at: [1, 1]}, draw_out: 5}",
        file=gear.parents[1] / "room.yaml",
    )
    assert said == (
        "7:64: LP1: draw_out: found draw_out with kind pipe, right is draw_out with a "
        "kind that needs a working space; of type lighting (line 3 of house.yaml)"
    )


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("types: {a: {size: [1, 2, 3]}}", "1:20: types.a.size #1: found 1 without a"),
        ("units: cm\ntypes: {}", '1:8: units: found "cm", right is mm, m, in or ft'),
        ("units: mm\ntypes: 3", "2:8: types: found 3, right is a mapping of types"),
        ("units: mm\ntypes: {a: 3}", "2:12: types.a: found 3, right is a mapping"),
        ("title: x\ntypes: {}", '1:1: title: found the key "title", right is types'),
        ("units: mm", "1:1: found a mapping without types, right is a file of gear"),
        ("- 1", "1:1: found [1] without types, right is a file of gear"),
        ("", "1:1: found nothing without types, right is a file of gear"),
        ("types: [", "not YAML"),
        ("types: {a: {kind: pad}}\ntypes: {}", "2:1: types: found the key types again"),
        ("types: {a: {type: a}}", "1:19: types.a.type: found a circle, a on a"),
        ("types: {own: {kind: pad}}", '1:9: types.own: found the type "own" again'),
        ("types: \x01", "found the character U+0001"),
    ],
)
def test_what_is_wrong_with_a_gear_file(text: str, said: str, tmp_path: Path) -> None:
    file = tmp_path / "gear.yaml"
    file.write_text(text, encoding="utf-8")
    lines = ("types_from: gear.yaml", "types: {own: {kind: pad}}", "items: []")
    found = mistakes(*lines, file=tmp_path / "room.yaml")
    assert len(found) == 1
    assert found[0].startswith(str(file))
    assert said in found[0]


@pytest.mark.parametrize(
    ("name", "right"),
    [
        ("../gear.yaml", "a file in the scene's folder"),
        ("gear.txt", "a file that ends in .yaml, .yml or .json"),
        ("none.yaml", "a file that is there"),
        ("room.yaml", "the scene itself"),
    ],
)
def test_files_that_are_no_gear(name: str, right: str, tmp_path: Path) -> None:
    scene = tmp_path / "room.yaml"
    scene.write_text(HEAD, encoding="utf-8")
    (said,) = mistakes(f"types_from: {name}", file=scene)
    assert said.startswith("5:13: types_from: found")
    assert right in said


def test_a_gear_file_is_no_scene(gear: Path) -> None:
    with pytest.raises(SceneError) as caught:
        read_scene(gear)
    assert str(caught.value) == (
        f"{gear}:1:1: found a file of gear, right is a scene, which names it by "
        "types_from"
    )


def test_types_are_built_on_twenty_and_no_more() -> None:
    types = [f"  t{n}: {{type: t{n + 1}}}" for n in range(19)]
    chain = ["types:", *types, "  t19: {kind: pad, size: [1, 1, 1]}", "items:"]
    (one,) = items(*chain, "  - {id: A, type: t0, place: {at: [9, 9]}}")
    assert one.kind == "pad"
    more = ["types:", "  t: {type: t0}", *chain[1:]]
    (said,) = mistakes(*more, "  - {id: A, type: t, place: {at: [9, 9]}}")
    assert "found more than 20 types on one another" in said


@pytest.mark.many
def test_copies_have_an_end() -> None:
    row = "repeat: {count: 1000, step: 1}"
    pads = [
        f'  - {{id: "{c}{{n}}", type: pad, place: {{at: [9, 9]}}, {row}}}'
        for c in "ABCDEFGHIJ"
    ]
    head = ("types: {pad: {kind: pad, size: [1, 1, 1]}}", "items:")
    assert len(items(*head, *pads)) == 10_000
    (said,) = mistakes(*head, *pads, pads[0].replace("A{n}", "K{n}"))
    assert "found more than 10000 copies in this file" in said


def test_what_copies_hold_has_an_end() -> None:
    tier = "{shelf: 1, cells: 1, cell: [1, 1, 1]}"
    said = mistakes(
        "types:",
        f"  rack: {{kind: battery-rack, tiers: [{', '.join([tier] * 900)}]}}",
        "items:",
        "  - {id: R1, type: rack, repeat: {count: 1000, step: 1}, place: {at: [9, 9]},",
        "     size: [1, 1, 1]}",
    )
    assert "found more than 5000000 values in this file" in said[-1]


@pytest.mark.parametrize(
    ("name", "ids"),
    [
        ("P1", ["P1", "P2", "P3"]),
        ("P9", ["P9", "P10", "P11"]),
        ("LP-08A", ["LP-08A", "LP-09A", "LP-10A"]),
        ('"{n}-P4"', ["1-P4", "2-P4", "3-P4"]),
        ("7", ["7", "8", "9"]),
    ],
)
def test_ids_number_on(name: str, ids: list[str]) -> None:
    row = "size: [1, 1, 1], place: {at: [9, 9]}, repeat: {count: 3, step: 1}"
    found = items(f"items: [{{id: {name}, kind: pad, {row}}}]")
    assert [one.id for one in found] == ids


def test_sections_that_touch_are_one_piece_of_gear() -> None:
    row = "size: [800, 600, 2000], place: {wall: south, along: 9}"
    more = "repeat: {count: 2, touching: true}"
    found = items(
        "items:",
        f"  - {{id: S1, kind: switchboard, {row}, {more}}}",
        f"  - {{id: F1, kind: furniture, {row}, {more}}}",
        f"  - {{id: M1, kind: drive, line_up: MCC, {row}, {more}}}",
    )
    rows = ["S1", "S1", None, None, "MCC", "MCC"]
    assert [one.line_up for one in found] == rows
    assert [one.place.along for one in found[:2]] == [9, 809]  # type: ignore[union-attr]


PLACES = (
    "place: {wall: south, along: 300, bottom: 5}, size: [10, 20, 30]",
    "place: {wall: east, along: 300, top: 5 in, gap: 4}, size: [10, 20, 30]",
    "place: {at: [1000, 2000], facing: east}, size: [10, 20, 30]",
    "place: {at: [1000, 2000], facing: -30}, size: [10, 20, 30]",
    "place: {over: X, shift: [1, 2, 3]}, size: [10, 20, 30]",
    "from: [0, 0, 0], to: [100, 50, 20], diameter: 9",
    "from: [0, 0, 0], to: [0, 0, 20], diameter: 9",
)
STEP = st.tuples(*[st.integers(-400, 400) | st.floats(-400, 400)] * 3)


@settings(deadline=None, max_examples=40)
@given(st.sampled_from(PLACES), STEP, st.integers(2, 5))
def test_a_copy_stands_where_the_item_would_be_moved_to(
    place: str, step: tuple[float, float, float], count: int
) -> None:
    if max(map(abs, step)) < 1:
        return
    said = ", ".join(format(one, ".6f") for one in step)
    row = f"repeat: {{count: {count}, step: [{said}]}}"
    below = "place: {at: [3000, 900], facing: 70}"
    scene = read(
        "items:",
        f"  - {{id: X, kind: pad, size: [90, 90, 90], {below}}}",
        f"  - {{id: P1, kind: pipe, {place}, {row}}}",
    )
    _, first, *_, last = scene.items
    if first.place is not None:
        axes = axes_of(scene, first)
    else:
        # A run begins in front: along (100, 50) right is (50, -100), out is back.
        long = 12500**0.5
        slanted = first.to is not None and first.to[0] != 0
        axes = (
            ((50 / long, -100 / long), (-100 / long, -50 / long))
            if slanted
            else ((1.0, 0.0), (0.0, -1.0))
        )
    right, out, up = ((count - 1) * float(format(one, ".6f")) for one in step)
    by = [right * axes[0][n] + out * axes[1][n] for n in (0, 1)]
    wanted = moved(scene, first, [*by, up])
    for key in ("from_", "to", "place"):
        assert flat(scene, getattr(last, key)) == pytest.approx(
            flat(scene, getattr(wanted, key)), abs=1e-7
        )


def flat(scene: Scene, value: object) -> list[float]:
    """Return the lengths of a place in metres."""
    if value is None:
        return []
    if isinstance(value, tuple):
        return [scene.metres(length) for length in value]
    rows: list[float] = []
    for key in ("at", "along", "gap", "bottom", "top", "shift"):
        part = getattr(value, key, None)
        many = part if isinstance(part, tuple) else (part or 0.0,)
        rows += [scene.metres(length) for length in many]
    return rows


KEYS = {
    "kind": "panelboard",
    "size": "[500, 150, 900]",
    "door": "left",
    "rear": "bolted",
    "supply": "{system: 208Y/120, amps: 200}",
    "clearances": "{left: 100, above: 3 in}",
    "why": "so",
}


@settings(deadline=None, max_examples=40)
@given(
    st.dictionaries(st.sampled_from([*KEYS]), st.integers(0, 3)), st.sampled_from(UNITS)
)
def test_wherever_keys_are_written_the_item_is_the_same(
    depth: dict[str, int], unit: str
) -> None:
    """Some keys at the item (0), some in its type (1) or below (2, 3)."""
    levels: list[list[str]] = [[], [], [], []]
    for key, said in KEYS.items():
        levels[depth.get(key, 0)].append(f"{key}: {said}")
    own, *types = (", ".join(level) for level in levels)
    place = "place: {wall: north, along: 500, bottom: 900}"
    head = HEAD.replace("units: mm", f"units: {unit}").replace("90000", "900000")
    (short,) = read_text(
        f"{head}types:\n"
        f"  a: {{type: b{', ' if types[0] else ''}{types[0]}}}\n"
        f"  b: {{type: c{', ' if types[1] else ''}{types[1]}}}\n"
        f"  c: {{{types[2]}}}\n"
        f"items: [{{id: LP1, type: a, {place}{', ' if own else ''}{own}}}]",
        "room.yaml",
    ).items
    whole = ", ".join(f"{key}: {said}" for key, said in KEYS.items())
    (full,) = read_text(
        f"{head}items: [{{id: LP1, {place}, {whole}}}]", "room.yaml"
    ).items
    assert short == full


@settings(deadline=None, max_examples=40)
@given(st.sampled_from(UNITS), st.floats(0.01, 400), st.integers(1, 400))
def test_gear_means_the_same_in_a_scene_of_any_unit(
    unit: str, wide: float, high: int
) -> None:
    said = f"{{kind: pad, size: [{wide:.6f}, 6 in, {high}], clearances: {{left: 0}}}}"
    item = with_unit(compose(said)[0].value, unit)  # type: ignore[union-attr]
    lengths = [to_metres(one, "ft") for one in item["size"]]
    assert lengths == pytest.approx(
        [to_metres(float(f"{wide:.6f}"), unit), 0.1524, to_metres(high, unit)]
    )
    assert not bare_lengths(item)


def test_a_scene_in_python_has_items_of_its_own() -> None:
    item = {"id": "P1", "kind": "pad", "size": [1, 1, 1], "place": {"at": [9, 9]}}
    head = {"title": "x", "units": "mm", "rules": "nec-2023", "use": "outdoor"}
    for key, value in (("repeat", {"count": 2, "step": 1}), ("type", "a")):
        with pytest.raises(ValueError, match=key):
            Scene.model_validate({**head, "items": [{**item, key: value}]})


def test_the_files_that_a_scene_names_are_known_though_it_has_mistakes(
    tmp_path: Path,
) -> None:
    (tmp_path / "gear").mkdir()
    gear = tmp_path / "gear/mine.yaml"
    gear.write_text("types: {pump: {kind: machine, mesh: pump.stl}}\n", "utf-8")
    scene = tmp_path / "room.yaml"
    scene.write_text(
        "rules: city.toml\ntypes_from: [gear/mine.yaml]\nitems:\n"
        "  - {id: A, kind: nonsense, mesh: meshes/a.glb, rules: 7}\n",
        "utf-8",
    )
    names = ["city.toml", "gear/mine.yaml", "gear/pump.stl", "meshes/a.glb"]
    assert used_files(scene) == [tmp_path / name for name in names]
    scene.write_text("title: [", "utf-8")
    assert used_files(scene) == []
    assert used_files(tmp_path / "none.yaml") == []
