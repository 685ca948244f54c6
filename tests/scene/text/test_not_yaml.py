"""What a person is told of a text that is no YAML: where to look, and for what."""

from __future__ import annotations

import pytest

from model3d import SceneError, read_text

HEAD = "title: A\nunits: mm\nitems:\n  - id: LP1\n    kind: panelboard\n"
TEXTS = [
    # Tabs.
    ("title: A\nroom:\n\tsize: [1, 2]\n", "3:1", "use spaces"),
    ("title: A\n\tunits: mm\n", "2:1", "use spaces"),
    (f"{HEAD}    place:\n\t\twall: north\n", "7:1", "use spaces"),
    (f"{HEAD}  \t  door: left\n", "6:3", "use spaces"),
    # Lines that stand too far in or out.
    (f"{HEAD}   size: [1, 2, 3]\n", "6:4", "indented by 3, right is as many .* has 4"),
    (f"{HEAD}      size: [1, 2, 3]\n", "6:7", "indented by 6, right is .* has 4"),
    (f"{HEAD} - id: B\n    kind: pad\n", "6:2", "indented by 1, .* the - above has 2"),
    (f"{HEAD}    - id: B\n      kind: pad\n", "6:5", "indented by 4, .* - above has 2"),
    ("title: A\n  units: mm\n", "2:3", "indented by 2, .* the line above has 0"),
    # What is not closed, or closed by something else.
    (f"{HEAD}    size: [1, 2, 3\n    door: left\n", "6:11", r"\[ that is not closed"),
    (f"{HEAD}    size: [1, 2, 3\n", "6:11", r"\[ that is not closed, right is \]"),
    (
        f"{HEAD}    place: {{at: [1, 2]\n    door: left\n",
        "6:12",
        "{ that is not closed",
    ),
    (f'{HEAD}    name: "Panel\n    door: left\n', "6:11", 'a quote .* another "'),
    (f"{HEAD}    name: 'Panel\n    door: left\n", "6:11", "a quote .* another '"),
    (f'{HEAD}    size: ["6\'-6"", 2, 3]\n', "6:18", r'a " is written \\"'),
    (f"{HEAD}    size: [1, 2, 3}}\n", "6:19", r'found "}", right is \] to close \['),
    (f"{HEAD}    size: [1, 2, 3]]\n", "6:20", r"found \] too many"),
    # YAML 1.2.2, 5.4: a next line ends a line in YAML 1.1 alone, and is no blank.
    (f"{HEAD}    size: [1, 2, 3]\x85\n", "6:20", r"found U\+0085 there, right is"),
    ("title: A\nroom: {size: [1, 2], height: [", "2:30", r"\[ that is not closed"),
    ("title: A\nroom: {size: [1, 2], height: ", "2:7", "{ that is not closed"),
    (f"{HEAD}    size: [1, , 2]\n", "6:15", 'found "," there, right is a value'),
    (HEAD.replace("\n", "\r") + '    name: "Panel\r', "6:11", 'a quote .* another "'),
    # Colons and dashes.
    (f"{HEAD}    door left\n    rear: bolted\n", "6:5", '"door left" without a colon'),
    (f"{HEAD}    door left\n", "6:5", '"door left" without a colon'),
    ("title A\nunits: mm\n", "1:1", '"title A" without a colon'),
    (f"{HEAD}    door:left\n    rear: bolted\n", "6:5", "behind the colon: door: left"),
    ("title: Harbour: annex\n", "1:15", "a second colon in a line"),
    (f"{HEAD}    place: {{wall: north along: 1}}\n", "6:30", "a comma before"),
    ("items:\n  -id: A\n   kind: pad\n", "2:3", 'right is "- " before the first key'),
    ("items: - id: A\n", "1:8", "- behind a key"),
    # Signs that mean something at the start of a value.
    ("title: @A\n", "1:8", 'found "@" at its start, right is .* in quotes'),
    ("title: `A`\n", "1:8", 'found "`" at its start'),
    ("title: & A\n", "1:8", 'found "&" at its start'),
    ("title: > 3 m\n", "1:8", 'found ">" at its start'),
    ('title: "C:\\Users"\n', "1:13", r"found \\ before what"),
    ("title: A\n...\nunits: mm\n", "3:1", "text behind the end"),
    # Words to the parser itself, and tags.
    ("%YAML 9.9\n---\ntitle: A\n", "1:1", "found .%YAML 9.9., right is .* without"),
    ("%YAML x\n---\ntitle: A\n", "1:1", "found .%YAML x., right is .* without"),
    ("%YAML 1.2\n%YAML 1.2\n---\ntitle: A\n", "2:1", "found .%YAML 1.2., right is"),
    ("%TAG !e! a\n%TAG !e! b\n---\na: 1\n", "2:1", "found .%TAG !e! b., right is"),
    ("%TAG ! \n---\ntitle: A\n", "1:1", "found .%TAG !., right is"),
    ("title: !a!b c\n", "1:8", "found a tag at its start, right is .* in quotes"),
    ("title: !<a b\n", "1:8", "found a tag at its start, right is .* in quotes"),
    ("title: !<tag:%ZZ> c\n", "1:8", "found a tag at its start"),
    ('title: "\\UFFFFFFFF"\n', "1:9", r"found \\UFFFFFFFF, right is a character"),
]


@pytest.mark.parametrize(("text", "place", "words"), TEXTS)
def test_what_to_look_for(text: str, place: str, words: str) -> None:
    with pytest.raises(SceneError, match=f"^room.yaml:{place}: not YAML: .*{words}"):
        read_text(text, "room.yaml")


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("title: A\nroom:\nheight: 3\n", '3:1: height: found the key "height" here'),
        (
            f"{HEAD}kind: pad\n",
            '6:1: kind: found the key "kind" here, right is kind of',
        ),
    ],
)
def test_a_key_that_stands_too_far_to_the_left(text: str, said: str) -> None:
    with pytest.raises(SceneError) as caught:
        read_text(text, "room.yaml")
    assert f"room.yaml:{said}" in str(caught.value)
    assert "indent it more" in str(caught.value)


@pytest.mark.parametrize(("text", "_place", "_words"), TEXTS)
def test_it_is_one_line_of_what_was_found_and_what_is_right(
    text: str, _place: str, _words: str
) -> None:
    with pytest.raises(SceneError) as caught:
        read_text(text, "room.yaml")
    (mistake,) = caught.value.mistakes
    assert mistake.message.startswith("not YAML: found ")
    assert ", right is " in mistake.message
    assert "\n" not in str(mistake)
