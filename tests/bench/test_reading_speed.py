"""Reading a scene costs less than parsing its YAML without libyaml."""

from __future__ import annotations

import pytest
import yaml

from model3d.scene.text.reader import read_text
from tests.bench.least import least
from tests.bench.measures import reading_times
from tests.bench.panelboards import many_panelboards


@pytest.mark.bench
def test_checking_costs_less_than_parsing() -> None:
    text = many_panelboards(30)
    parsing = least(lambda: [*yaml.parse(text, Loader=yaml.BaseLoader)], 5)
    assert least(lambda: read_text(text, "many.yaml"), 5) < parsing


@pytest.mark.bench
def test_ten_times_the_items_take_ten_times_as_long() -> None:
    small, large = many_panelboards(30), many_panelboards(300)
    few = least(lambda: read_text(small, "few.yaml"), 3)
    assert least(lambda: read_text(large, "many.yaml"), 3) < 20 * few


@pytest.mark.bench
def test_many_items_are_read_in_some_times_of_what_libyaml_takes() -> None:
    # Measured 2.7 to 3.0; where each place is remembered too it was 6.8 to 7.5.
    reading, parsing = reading_times(5_000, 2)
    assert reading < 5 * parsing
