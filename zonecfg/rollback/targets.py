"""What a plant is to come to: copies put back, a restore that is mended, a plan as far as it is built."""

from collections.abc import Sequence

from msgspec import Struct

from zonecfg.model.site import Site
from zonecfg.rollback.by_place import by_place
from zonecfg.rollback.predict import Prediction, about_names, fill, predict
from zonecfg.rollback.settings import Settings, settings_of


class Copy(Struct, frozen=True):
    """A saved copy with the name people call it by."""

    name: str
    site: Site


def put_together(now: Site, copies: Sequence[Copy]) -> Prediction | None:
    """Put copies of different controllers back, whichever first; None where two are of the same one."""
    predictions = [predict(now, copy.site, copy.name) for copy in copies]
    covered = [c for p in predictions for c in p.controllers]
    if len(set(covered)) < len(covered):
        return None
    each = [p.filled for p in predictions if p.filled is not None]
    settings, names = fill(settings_of(now), each)
    both = list(zip(copies, names, strict=True))
    return Prediction(
        settings=settings,
        called=tuple(words for copy, called in both for words in about_names(called, copy.name)),
        controllers=tuple(covered),
        wiped=tuple(w for p in predictions for w in p.wiped),
        warnings=tuple(w for p in predictions for w in p.warnings),
        moved=tuple(w for p in predictions for w in p.moved),
        also_returns=tuple(a for p in predictions for a in p.also_returns),
        taken=tuple(w for p in predictions for w in p.taken),
        unsure=frozenset().union(*(p.unsure for p in predictions)),
    )


def mended_settings(now: Site, copies: Sequence[Copy], design: Copy | None) -> Settings:
    """What a restore is mended to, and what going there by hand comes to: the copies by place.

    What a copy did not keep is taken from what stands, else from the design.
    """
    planned = by_place(now, [design.site], whole=True) if design else None
    return by_place(now, [copy.site for copy in copies], design=planned)
