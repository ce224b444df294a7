"""The command line."""

import gc


def main() -> None:
    """Run the command line and end the process."""
    gc.disable()  # one command and out: collections, while modules load too, would only walk everything again
    from zonecfg.cli.app import main as run_and_end

    run_and_end()
