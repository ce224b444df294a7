"""What every published rule set says of itself, whatever it is about."""

from __future__ import annotations

from typing import Literal

import msgspec

SLACK = 1e-9
"""Relative slack of every comparison with a computed figure.

A chord computed from its own angle comes back as 124.99999999999999; it is 125 and fails a sphere of 125.
"""


class WrittenFor(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True):
    """The buildings and room uses a rule set is written for.

    Attributes
    ----------
    buildings
        In words, for messages.
    uses
        Values of ``room.use``; None means any.
    """

    buildings: str
    uses: tuple[str, ...] | None


class NotJudged(msgspec.Struct, frozen=True):
    """The rule could not be judged.

    Attributes
    ----------
    lacks
        The fields that are missing: of ``use``, ``drop_mm``, ``sill_mm``.
    """

    lacks: tuple[str, ...]


class Head(msgspec.Struct, frozen=True, kw_only=True, forbid_unknown_fields=True, tag_field="kind"):
    """The first lines of a rule set.

    Attributes
    ----------
    id
        As ``site.rules`` names it; the file has the same name.
    title, edition, clause
        What to look up in the published text.
    source
        Where the figures were read.
    read
        ``read`` in the source itself, ``secondary`` where another text quotes it.
    written_for
        Buildings and uses.
    note
        What a reader of a finding should know; may be empty.
    """

    id: str
    title: str
    edition: str
    clause: str
    source: str
    read: Literal["read", "secondary"]
    written_for: WrittenFor
    note: str

    def beyond_uses(self, use: str | None) -> bool | None:
        """Say whether a room's use lies beyond those the rule set is written for.

        Parameters
        ----------
        use
            The room's use, None where it is not stated.

        Returns
        -------
        bool or None
            None where the answer hangs on a use that is not stated.
        """
        if self.written_for.uses is None:
            return False
        return None if use is None else use not in self.written_for.uses
