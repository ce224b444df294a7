"""What the tests around git and editors share."""

from command import zonecfg  # noqa: F401  (a fixture)
