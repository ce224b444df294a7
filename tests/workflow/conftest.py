"""What the tests of whole commands share."""

from command import zonecfg  # noqa: F401  (a fixture)
