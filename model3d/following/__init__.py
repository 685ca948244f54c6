"""A checked scene in which items move: judged again only where that can change it."""

from __future__ import annotations

from model3d.following.claims import Followed, Following

__all__ = ["Followed", "Following"]
