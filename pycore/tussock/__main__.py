"""`python -m tussock` is the command `tussock`."""

import sys

from .cli import main

sys.exit(main())
