"""``standclear page`` and ``standclear serve`` as a person meets them.

Exit statuses and the limit of a page's size are those of the product's own contract;
the terms of the MIT licence ask for its notice in all copies. The rooms are invented.
"""

from __future__ import annotations

import json
import socket
from typing import TYPE_CHECKING

import pytest

from tests.paths import ROOT
from tests.viewer.written_rooms import WRITTEN
from viewer.cli.main import main
from viewer.live.serving.server import LiveServer
from viewer.page.html import WEB

if TYPE_CHECKING:
    from pathlib import Path


@pytest.mark.long
def test_a_page_is_written_beside_where_one_stands(
    file: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    folder = file.parent / "here"
    folder.mkdir()
    monkeypatch.chdir(folder)
    assert main(["page", str(file)]) == 0
    assert capsys.readouterr().out == "room.html\n"
    first = (folder / "room.html").read_bytes()
    assert main(["page", str(file), "-o", "again.html"]) == 0
    assert (folder / "again.html").read_bytes() == first
    assert b"Mill annex" in first


def test_the_scene_itself_is_never_overwritten(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["page", str(file), "-o", str(file)]) == 2
    assert "a page ends in .html" in capsys.readouterr().err
    assert file.read_text("utf-8") == WRITTEN


@pytest.mark.parametrize("command", ["page", "serve"])
def test_mistakes_are_listed_and_nothing_is_done(
    command: str, file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    wrong = WRITTEN.replace("machine", "machina").replace("[4000, 3000]", "[4000]")
    file.write_text(wrong, encoding="utf-8")
    assert main([command, str(file)]) == 2
    assert len(capsys.readouterr().err.splitlines()) == 2
    assert sorted(file.parent.iterdir()) == [file]


def test_a_book_that_is_not_known_is_a_line(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file.write_text(WRITTEN.replace("nec-2023", "nec-1023"), encoding="utf-8")
    for command in (["page"], ["serve", "--no-browser"]):
        assert main([*command, str(file)]) == 2
        (line,) = capsys.readouterr().err.splitlines()
        assert "nec-1023" in line


@pytest.mark.render
def test_a_page_with_a_still_stays_small(file: Path, tmp_path: Path) -> None:
    target = tmp_path / "still.html"
    assert main(["page", str(file), "-o", str(target), "--still"]) == 0
    data = target.read_bytes()
    assert b'"still":"data:image/png;base64,' in data
    assert len(data) < 1_000_000


def test_serving_says_the_address_and_ends_quietly(
    file: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def interrupted(_: LiveServer) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(LiveServer, "serve_forever", interrupted)
    shown: list[str] = []
    monkeypatch.setattr("webbrowser.open", shown.append)
    assert main(["serve", str(file)]) == 0
    address = capsys.readouterr().out.splitlines()[0]
    assert address.startswith("http://127.0.0.1:")
    assert shown == [address]
    assert main(["serve", str(file), "--no-browser"]) == 0
    assert len(shown) == 1


def test_a_port_that_is_taken_is_a_line(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    with socket.create_server(("127.0.0.1", 0)) as other:
        port = other.getsockname()[1]
        assert main(["serve", str(file), "--no-browser", "--port", str(port)]) == 2
    assert len(capsys.readouterr().err.splitlines()) == 1


def test_the_script_keeps_the_notice_of_what_is_in_it() -> None:
    script = (WEB / "viewer.js").read_text(encoding="utf-8")
    assert "three.js authors" in script
    assert "The above copyright notice and this permission notice" in script


def test_the_lock_file_names_no_host() -> None:
    text = (ROOT / "viewer/page/web/package-lock.json").read_text(encoding="utf-8")
    assert "://" not in text
    packages = json.loads(text)["packages"]
    assert all("integrity" in one for name, one in packages.items() if name)
