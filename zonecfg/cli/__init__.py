"""The command line."""

import gc
import sys


def main() -> None:
    """Run the command line and end the process."""
    if sys.flags.optimize > 1:
        sys.exit("zonecfg: python -OO strips what the checks say of themselves; run it without")
    gc.disable()  # one command and out: collections, while modules load too, would only walk everything again
    from zonecfg.cli.app import main as run_and_end

    run_and_end()
