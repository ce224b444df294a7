"""What the tests of the model share."""

from command import zonecfg  # noqa: F401  (a fixture)
