"""``python -m vanwater`` is the same as the command ``vanwater``."""

from __future__ import annotations

import sys

from vanwater.command import main

if __name__ == "__main__":
    sys.exit(main())
