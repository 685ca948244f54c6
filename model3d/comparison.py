"""What differs between two reports: of two versions of a scene, or of two books."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Final

from model3d.wording import sentences

if TYPE_CHECKING:
    from collections.abc import Iterator, Mapping

    from model3d.judging.report import Report
    from model3d.judging.results import Judgement, Verdict
    from model3d.scene.scene import Scene

Key = tuple[str, str, int | None, int | None, str | None]
"""What tells a judgement from all others: subject, requirement, leaf, tier, side."""

_HEAD: Final = ("rules", "installed", "premises", "use", "measures", "room", "units")
"""Keys of a scene that bear on every judgement."""


@dataclass(frozen=True, slots=True)
class ChangedJudgement:
    """A judgement that comes out otherwise.

    Attributes:
        subject, requirement, leaf, tier, side: As in the judgement.
        old, new: The verdicts; None where there is no such judgement.
        why: What was changed in the scene that bears on it, and what is said now.
        citation: Of the sentence that decides now, or that decided.
        reason: What is said now, alone.
        cited: Of the sentence that decided before, and of the one that decides now;
            None where there is no such judgement.
    """

    subject: str
    requirement: str
    leaf: int | None
    tier: int | None
    side: str | None
    old: Verdict | None
    new: Verdict | None
    why: str
    citation: str
    reason: str
    cited: tuple[str | None, str | None]

    def document(self) -> dict[str, Any]:
        """Return the change with the contract's keys; those that do not apply go."""
        found: dict[str, Any] = {
            "subject": self.subject,
            "requirement": self.requirement,
        }
        for name in ("leaf", "tier", "side"):
            if getattr(self, name) is not None:
                found[name] = getattr(self, name)
        return {**found, "old": self.old, "new": self.new, "why": self.why}


def compare(old: Report, new: Report) -> tuple[ChangedJudgement, ...]:
    """Return every judgement whose verdict differs, in the order of the reports.

    What did not change, and where only figures changed, is left out.
    """
    before = {_key(one): one for one in old.judgements}
    after = {_key(one): one for one in new.judgements}
    written = _differences(old, new)
    keys = sorted(before.keys() | after.keys(), key=_order)
    found = (
        _change(key, before.get(key), after.get(key), written, (old, new))
        for key in keys
    )
    return tuple(one for one in found if one is not None)


def comparison_document(
    names: tuple[str, str], changes: tuple[ChangedJudgement, ...]
) -> dict[str, Any]:
    """Return the contract's JSON document of a comparison.

    Args:
        names: What the two are called: files, or rule books.
        changes: What differs.
    """
    return {
        "format": 1,
        "old": names[0],
        "new": names[1],
        "changed": [one.document() for one in changes],
    }


def _key(one: Judgement) -> Key:
    return one.subject, one.requirement, one.leaf, one.tier, one.side


def _order(key: Key) -> tuple[str, str, int, int, str]:
    subject, requirement, leaf, tier, side = key
    parts = (-1 if leaf is None else leaf, -1 if tier is None else tier)
    return subject, requirement, *parts, side or ""


def _change(
    key: Key,
    before: Judgement | None,
    after: Judgement | None,
    written: Mapping[str, str],
    reports: tuple[Report, Report],
) -> ChangedJudgement | None:
    verdicts = (
        before.verdict if before else None,
        after.verdict if after else None,
    )
    if verdicts[0] == verdicts[1]:
        return None
    told = after or before
    names = {key[0], "scene"} | {
        hit.item for one in (before, after) if one for hit in one.intrusions
    }
    said = [written[name] for name in sorted(names) if name in written]
    reason = after.reason if after else _gone(key, reports)
    return ChangedJudgement(
        *key,
        *verdicts,
        why=sentences(*said, reason),
        citation=told.citation if told else "",
        reason=reason,
        cited=(
            before.citation if before else None,
            after.citation if after else None,
        ),
    )


def _gone(key: Key, reports: tuple[Report, Report]) -> str:
    arrangement = reports[1].arrangement
    if arrangement is not None and key[0] in arrangement.items:
        return f"Nothing is asked of it any more by {reports[1].rules}."
    return "It is judged no more."


def _differences(old: Report, new: Report) -> dict[str, str]:
    """Say what differs in what is written, by item; "scene" for the scene itself."""
    said = ""
    if old.rules != new.rules:
        said = f"Rule book {old.rules}, then {new.rules}."
    if old.arrangement is None or new.arrangement is None:
        return {"scene": said} if said else {}
    return _written(old.arrangement.scene, new.arrangement.scene, said)


def _written(old: Scene, new: Scene, said: str) -> dict[str, str]:
    before, after = old.written(), new.written()
    keys = [
        key for key in _HEAD if key != "rules" and before.get(key) != after.get(key)
    ]
    parts = [said, f"Changed in the scene: {', '.join(keys)}." if keys else ""]
    found = {"scene": " ".join(filter(None, parts))} if any(parts) else {}
    items = {item["id"]: item for item in before.get("items", ())}
    others = {item["id"]: item for item in after.get("items", ())}
    for name in sorted(items.keys() | others.keys()):
        words = _item_words(name, items.get(name), others.get(name))
        if words:
            found[name] = words
    return found


def _item_words(
    name: str, before: Mapping[str, Any] | None, after: Mapping[str, Any] | None
) -> str:
    if before is None:
        return f"{name} was added."
    if after is None:
        return f"{name} was taken away."
    keys = [*_changed(before, after)]
    return f"Changed at {name}: {', '.join(keys)}." if keys else ""


def _changed(before: Mapping[str, Any], after: Mapping[str, Any]) -> Iterator[str]:
    for key in sorted(before.keys() | after.keys()):
        if before.get(key) != after.get(key) and key != "name":
            yield key
