"""Run the command: ``python -m viewer.cli``."""

from __future__ import annotations

import sys

from viewer.cli.main import main

if __name__ == "__main__":
    sys.exit(main())
