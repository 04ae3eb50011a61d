"""The command line: ``python -m poulter``, also installed as ``poulter``."""

import signal
import sys
from pathlib import Path

from ._core import command_line

__all__ = ["main"]


def main() -> int:
    """Run the command line on ``sys.argv`` and return its exit code."""
    name = Path(sys.argv[0]).name
    # The compiled half does not look for Python's pending signals, so Ctrl-C is left to the system.
    signal.signal(signal.SIGINT, signal.SIG_DFL)
    return command_line(["python -m poulter" if name == "__main__.py" else name, *sys.argv[1:]])


if __name__ == "__main__":
    sys.exit(main())
