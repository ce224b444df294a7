"""The exceptions: each means the command cannot go on; whatever is wrong in a plan is a finding instead."""


class ZonecfgError(Exception):
    """Root of everything zonecfg raises on purpose; its text is one line for a person."""

    exit_code = 2


class CannotRead(ZonecfgError):
    """A path cannot be opened or holds no site file."""


class UnreadableSite(ZonecfgError):
    """A command that needs a whole site met a file with faults of reading."""


class UnknownName(ZonecfgError):
    """A check, field, rule set or format was asked for that does not exist."""


class NoOrder(Exception):
    """No order of moves reaches a target; the way that needed one is told as impossible."""


class CannotWrite(ZonecfgError):
    """A file could not be written, or stands there already."""


class BrokenCheck(ZonecfgError):
    """A check's own file contradicts the conventions of the package."""


class MissingExtra(ZonecfgError):
    """A use needs a library that only an extra of the package brings."""


class WorkerLost(ZonecfgError):
    """A process that did a part of the work ended before it had told of it."""


class Undecided(ZonecfgError):
    """What is meant cannot be told from what stands there; the message names the option that says it."""


class UnreadableSheet(ZonecfgError):
    """A filled worksheet cannot be taken as it is; the message names sheet, row and column."""
