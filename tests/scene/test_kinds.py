"""Kinds, held against the table of the scene format, and the trade's other names."""

from __future__ import annotations

import pytest

from model3d.scene.kinds import KINDS
from model3d.scene.words import trade
from model3d.scene.words.trade import kinds_called, other_words

GEAR = (
    *("panelboard", "switchboard", "switchgear", "motor-control-center"),
    *("disconnect", "transfer-switch", "control-panel", "ups", "meter-socket"),
    *("transformer", "drive", "generator", "current-transformer-cabinet"),
    *("energy-storage-unit", "battery-rack", "battery-cabinet"),
)
ASSOCIATED = (
    *("meter", "wireway", "pull-box", "junction-box", "tap-box", "cable-tray"),
    *("conduit", "busway", "pad", "support", "spill-tray"),
)
FOREIGN = (
    *("pipe", "gas-pipe", "duct", "leak-guard", "shelf", "storage", "furniture"),
    "machine",
)
STRUCTURE = ("column", "beam", "wall", "platform", "stair", "ceiling")
OTHERS = ("sprinkler", "luminaire", "pit", "obstacle")
FORMAT = {*GEAR, *ASSOCIATED, *FOREIGN, *STRUCTURE, *OTHERS}


def test_the_kinds_are_those_of_the_format_and_what_came_since() -> None:
    assert {*KINDS} >= FORMAT


def test_a_kind_implies_what_the_format_says() -> None:
    def named(feature: str) -> set[str]:
        return {name for name in FORMAT if getattr(KINDS[name], feature)}

    assert named("needs_working_space") == {*GEAR}
    assert named("associated") == {*GEAR, *ASSOCIATED}
    assert named("dedicated") == {*GEAR[:4]}
    assert named("foreign") == {*FOREIGN}
    assert named("structure") == {*STRUCTURE}
    assert named("hole") == {"pit"}


@pytest.mark.parametrize(
    ("word", "called"),
    [
        *(("gutter", "wireway"), ("trough", "wireway"), ("drip pan", "leak-guard")),
        *(("MCC", "motor-control-center"), ("VFD", "drive"), ("inverter", "drive")),
        *(("genset", "generator"), ("CT cabinet", "current-transformer-cabinet")),
        *(("load center", "panelboard"), ("bus duct", "busway"), ("steps", "stair")),
    ],
)
def test_the_trade_has_other_names(word: str, called: str) -> None:
    assert kinds_called(word) == (called,)


def test_another_name_is_no_kind_and_leads_to_one() -> None:
    for kind in trade._OTHER_WORDS:  # noqa: SLF001 - the table itself
        assert kind in KINDS
        for word in other_words(kind):
            assert word not in KINDS
            assert word == word.casefold().replace(" ", "-")
            assert kind in kinds_called(word)
