"""Every example room comes out as its story says, by numbers worked out by hand."""

from __future__ import annotations

import re
from itertools import takewhile
from typing import TYPE_CHECKING, Any

import pytest

from model3d import check, read_text
from tests.paths import SCENES
from tests.scenes.examples import NAMES, report
from tests.scenes.stories import STORIES

if TYPE_CHECKING:
    from collections.abc import Iterable

    from model3d import Verdict
    from tests.scenes.told import Story, Told

NEAR = 0.02
"""Millimetres and degrees: the round bodies are many-sided, by 0.01 mm."""
SHORTEST_STORY = 200
"""Characters."""
PARTS = ("leaf", "tier", "side")


def judged(name: str, verdict: Verdict) -> dict[tuple[object, ...], dict[str, Any]]:
    """Return an example's judgements of one verdict by subject, rule and part."""
    return {
        (one["subject"], one["requirement"], part(one)): one
        for one in report(name).document()["judgements"]
        if one["verdict"] == verdict
    }


def part(judgement: dict[str, Any]) -> int | str | None:
    """Return which leaf, tier or side of an item is judged."""
    return next((judgement[key] for key in PARTS if key in judgement), None)


def told(tales: Iterable[Told]) -> dict[tuple[object, ...], Told]:
    return {(one.subject, one.requirement, one.number): one for one in tales}


def agree(found: dict[str, Any], wanted: Told) -> None:
    for sizes, some in (("required", wanted.required), ("provided", wanted.provided)):
        given = found.get(sizes, {})
        assert {name: given.get(name) for name in some} == pytest.approx(some, abs=NEAR)
    hits = found.get("intrusions", [])
    assert sorted(hit["item"] for hit in hits) == sorted(wanted.by)
    if wanted.condition is not None:
        assert found["condition"] == wanted.condition
    if wanted.reach is not None:
        assert [hit["reach"] for hit in hits] == pytest.approx([wanted.reach])
    assert found["citation"].endswith(wanted.cites)


@pytest.mark.parametrize(("name", "story"), STORIES.items(), ids=STORIES)
def test_room_comes_out_as_its_story_says(name: str, story: Story) -> None:
    unmet: dict[Verdict, tuple[Told, ...]]
    unmet = {"not-met": story.not_met, "open": story.still_open}
    for verdict, tales in unmet.items():
        found = judged(name, verdict)
        assert found.keys() == told(tales).keys()
        for key, wanted in told(tales).items():
            agree(found[key], wanted)
    met = judged(name, "met")
    for key, wanted in told(story.met).items():
        agree(met[key], wanted)


def other_rules(name: str, old: str, new: str) -> dict[Verdict, int]:
    """Return the counts of an example room with one line of it changed."""
    file = SCENES / f"{name}.yaml"
    text = file.read_text(encoding="utf-8")
    assert text.count(f"\n{old}\n") == 1
    changed = text.replace(f"\n{old}\n", f"\n{new}\n")
    return check(read_text(changed, file)).counts


def test_the_local_room_is_all_right_by_the_national_code() -> None:
    counts = other_rules("local-amendment", "rules: quillhaven.toml", "rules: nec-2023")
    assert (counts["not-met"], counts["open"]) == (0, 0)


def test_the_closet_is_all_right_by_either_system() -> None:
    counts = other_rules("feet-and-inches", "measures: inch-pound", "measures: either")
    assert (counts["not-met"], counts["open"]) == (0, 0)
    (space,) = report("feet-and-inches").of("HP1", "working-space")
    assert "By the SI figures the limit is met." in space.reason


def test_the_crawl_space_is_all_right_since_2017() -> None:
    counts = other_rules("crawl-space", "rules: nec-2014", "rules: nec-2020")
    assert counts["not-met"] == 0


def test_the_shop_is_judged_by_its_date() -> None:
    counts = other_rules(
        "osha-workshop", "installed: 1978-06-01", "installed: 2008-01-01"
    )
    # The panel too is not met now: 0.9 m is asked for, and 1.98 m of headroom. Neither
    # is the space above the motor control center, where the pipe is.
    assert counts["not-met"] == report("osha-workshop").counts["not-met"] + 2


@pytest.mark.parametrize("name", NAMES)
def test_room_tells_its_story_first(name: str) -> None:
    lines = (SCENES / f"{name}.yaml").read_text(encoding="utf-8").splitlines()
    first = "\n".join(takewhile(lambda line: line.startswith("#"), lines))
    assert len(first) > SHORTEST_STORY
    assert "What to learn:" in first


def row(name: str, about: str) -> str:
    """Return the row of a room on the page: all that is not met and open in it."""
    cells = [f"`{name}.yaml`", about]
    verdicts: tuple[Verdict, ...] = ("not-met", "open")
    for verdict in verdicts:
        found = judged(name, verdict)
        cells.append(", ".join(sorted({f"{who} {rule}" for who, rule, _ in found})))
    return "|" + "".join(f" {cell} |" if cell else " |" for cell in cells)


def test_list_of_the_rooms_is_right(*, update_golden: bool) -> None:
    """scenes/README.md names every room with all that is not met and open in it."""
    file = SCENES / "README.md"
    page = file.read_text(encoding="utf-8")
    rows = re.findall(r"^\| `[^`/]+\.yaml` \|.*\n", page, re.MULTILINE)
    told = {one.split("`")[1]: one.split(" | ")[1] for one in rows}
    titles = {name: report(name).scene for name in NAMES}
    wanted = "".join(
        row(name, told.get(f"{name}.yaml", titles[name])) + "\n" for name in NAMES
    )
    if update_golden:
        page = page.replace("".join(rows), wanted)
        file.write_text(page, encoding="utf-8", newline="\n")
    assert wanted in page


def test_folder_holds_only_what_people_read() -> None:
    kinds = {path.suffix for path in SCENES.rglob("*") if path.is_file()}
    assert kinds <= {".yaml", ".toml", ".md", ".glb", ".stl", ".png", ".svg"}
