"""`python -m loadbench` is the command `loadbench`."""

from __future__ import annotations

import sys

from loadbench.cli import main

sys.exit(main())
