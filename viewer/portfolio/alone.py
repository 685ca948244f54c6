"""Judge one room that lies in a folder: ``python -m viewer.portfolio.alone FOLDER``.

What is asked is beside it, and what comes of it is left there.
"""

from __future__ import annotations

import pickle
import sys
from pathlib import Path

from viewer.portfolio.parcel import RESULT, TASK, judged_in


def main(folder: Path) -> None:
    """Read what is asked, and leave what comes of it."""
    parcel = pickle.loads((folder / TASK).read_bytes())  # noqa: S301 - parcel wrote it
    (folder / RESULT).write_bytes(pickle.dumps(judged_in(folder / "room", parcel)))


if __name__ == "__main__":
    main(Path(sys.argv[1]))
