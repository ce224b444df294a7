"""``python -m zonecfg``."""

from zonecfg.cli import main

main()
