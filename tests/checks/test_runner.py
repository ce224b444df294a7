"""How checks are found, run and placed, and how accepted findings are laid aside."""

from datetime import date
from types import SimpleNamespace

import pytest
from plans import plan, site_of
from sites import as_yaml

from zonecfg.checks import registry, runner
from zonecfg.checks.registry import Check, Enrolled, entries, entry, read_help
from zonecfg.document.reader import read
from zonecfg.errors import BrokenCheck, UnknownName
from zonecfg.figures import Figures
from zonecfg.model.grammar import grammar
from zonecfg.results.finding import NotChecked, Problem, Related

TODAY = date(2026, 11, 25)
LOCKED = {"check": "hand-lock-fitted", "at": "/openings/W-1"}
CHECK = Check("hand-lock-fitted", "error", source="common practice")


def judged(data, *, unknown=frozenset(), file="hall.yaml", reading=()):
    document = read(as_yaml(data).encode(), "hall.yaml", grammar().as_written)
    return runner.judge(
        Figures(site_of(data, unknown)),
        file=file,
        places=document.places if file else None,
        today=TODAY,
        reading=reading,
    )


def locked(*accepted, **more):
    """A plan whose sash can be locked by hand: one error, accepted or not."""
    return plan(openings={"W-1": {"lock": "hand"}}, **({"accepted": list(accepted)} if accepted else {}), **more)


def found(data, check, **more):
    return [f for f in judged(data, **more).findings if f.check == check]


def not_checked(data, check, **more):
    return [(entry.because, entry.ids) for entry in judged(data, **more).not_checked if entry.check == check]


class TestRegistry:
    """Checks are found by walking and known by their names."""

    def test_walking(self, tmp_path):
        """Families are folders that can be imported; a family's checks are its files, whatever begins with _ apart."""
        for path in (
            "b/__init__.py",
            "b/two.py",
            "b/one.py",
            "b/_own.py",
            "b/note.txt",
            "a/__init__.py",
            "a/x.py",
            "c/y.py",
        ):
            (tmp_path / path).parent.mkdir(exist_ok=True)
            (tmp_path / path).touch()
        assert list(registry._walk(tmp_path)) == [("a", "x"), ("b", "one"), ("b", "two")]

    def test_an_entry_is_its_file(self):
        known = entry("finger-trap")
        assert (known.id, known.family, known.check.id) == ("finger-trap", "sash", "finger-trap")
        assert known.module.__name__ == "zonecfg.checks.sash.finger_trap"

    def test_families_and_ids_in_order(self):
        order = [(known.family, known.id) for known in entries().values()]
        assert order == sorted(order)
        assert len({family for family, _ in order}) == 11

    def test_an_unknown_name(self):
        with pytest.raises(UnknownName, match=r"^finger-trp is no check; finger-trap is the nearest known$"):
            entry("finger-trp")

    def test_a_file_that_declares_another_id(self, monkeypatch):
        module = SimpleNamespace(__name__="zonecfg.checks.sash.a_check", CHECK=CHECK)
        asked = []
        monkeypatch.setattr(registry, "import_module", lambda name: asked.append(name) or module)
        told = r"^zonecfg\.checks\.sash\.a_check declares hand-lock-fitted; file and id must have one name$"
        with pytest.raises(BrokenCheck, match=told):
            assert Enrolled("a-check", "sash").module
        assert asked == ["zonecfg.checks.sash.a_check"]

    def test_one_id_in_two_families(self, monkeypatch):
        monkeypatch.setattr(registry, "_walk", lambda _: iter([("air", "a_check"), ("bus", "a_check")]))
        with pytest.raises(BrokenCheck, match=r"^a-check stands in air and in bus; ids are unique$"):
            entries.__wrapped__()

    @pytest.mark.parametrize(
        ("check", "state", "judges"),
        [
            ("finger-trap", "as-designed", True),
            ("finger-trap", "as-commissioned", True),
            ("finger-trap", "saved", False),
            ("finger-trap", None, False),
            ("walk-test-missing", "as-designed", False),  # the family says so
            ("walk-test-missing", "as-commissioned", True),
            ("measured-voltage-too-low", "as-designed", False),  # the check says so
            ("measured-voltage-too-low", "as-commissioned", True),
            ("unknown-key", "as-designed", False),
        ],
    )
    def test_states(self, check, state, judges):
        assert entry(check).judges(state) == judges

    def test_help_is_taken_apart(self):
        text = (
            "A title.\n\nWhy\n    One line,\n    and one more.\nWrong\n    a:\n      b: 1\n"
            "Right\n    Do it,\n    soon.\n\n        a:\n          b: 2\n\n        c: 3\n"
        )
        told = read_help(CHECK, "sash", text)
        assert (told.check, told.severity, told.family, told.source) == (CHECK.id, "error", "sash", "common practice")
        assert (told.title, told.why, told.cure) == ("A title.", "One line, and one more.", "Do it, soon.")
        assert (told.wrong, told.right) == ("a:\n  b: 1", "a:\n  b: 2\n\nc: 3")


class TestPlaces:
    """A finding has file, line and column, and its message names the lines of what belongs to it."""

    @pytest.mark.parametrize(
        ("related", "words"),
        [
            ((), "told"),
            (("/openings",), "told (line {0})"),
            (("/openings", "/groups"), "told (lines {0}, {1})"),
        ],
    )
    def test_lines(self, related, words):
        lines = as_yaml(locked()).splitlines()
        at = [next(n for n, line in enumerate(lines, start=1) if line == f"{name}:") for name in ("openings", "groups")]
        places = read(as_yaml(locked()).encode(), "hall.yaml", grammar().as_written).places
        told = runner.placed(CHECK, Problem("openings/W-1", "/openings/W-1/lock", "told", related), "hall.yaml", places)
        assert told.message == words.format(*at)
        assert [(r.file, r.at, r.line, r.column) for r in told.related] == [
            ("hall.yaml", pointer, line, 1) for pointer, line in zip(related, at, strict=False)
        ]
        row = lines[told.line - 1]
        assert row[told.column - 1 : told.end_column - 1] == "hand"

    def test_a_state_that_is_only_predicted_has_no_places(self):
        told = runner.placed(CHECK, Problem("openings/W-1", "/openings/W-1/lock", "told", ("/rooms",)), None, None)
        assert (told.file, told.line, told.column, told.end_column) == (None, None, None, None)
        assert (told.message, told.related) == ("told", (Related(None, "/rooms", None, None),))
        assert (told.check, told.severity, told.about, told.at) == (
            CHECK.id, "error", "openings/W-1", "/openings/W-1/lock",
        )  # fmt: skip

    def test_a_problem_may_be_worse_than_its_check(self):
        data = plan(openings={"W-1": {"stays": "friction"}})
        assert [f.severity for f in found(data, "friction-stay-fitted")] == ["error"]

    def test_where_no_state_is_known_every_check_of_the_site_says_so(self):
        """Silence would be a pass. What reading and acceptances find needs no state."""
        data = locked()
        del data["state"]
        because = "it is not known whether this is a plan, a plant or a copy"
        told = {n.check for n in judged(data).not_checked if n.because == because}
        assert told == {check for check, e in entries().items() if e.problems is not None}
        assert found(data, "hand-lock-fitted") == []

    def test_findings_are_in_order_and_those_of_reading_are_kept(self):
        data = locked(rooms={"room": {"use": "office"}, "attic": {"use": "other"}})
        data["openings"]["W-1"]["sill_mm"] = 900
        read_one = runner.placed(
            entry("unknown-key").check, Problem("rooms/attic", "/rooms/attic", "told"), "hall.yaml",
            read(as_yaml(data).encode(), "hall.yaml", grammar().as_written).places,
        )  # fmt: skip
        findings = judged(data, reading=[read_one]).findings
        assert {f.check for f in findings} >= {"unknown-key", "finger-trap", "hand-lock-fitted"}
        assert [f.order for f in findings] == sorted(f.order for f in findings)

    def test_without_a_file(self):
        (told,) = found(locked(), "hand-lock-fitted", file=None)
        assert (told.file, told.line) == (None, None)


class TestNotChecked:
    """A check without the sections it needs does not run; one entry a check and reason."""

    @pytest.mark.parametrize(
        ("lost", "because"),
        [
            ({"openings"}, "openings could not be read"),
            ({"openings", "actuators"}, "openings and actuators could not be read"),
        ],
    )
    def test_lost_sections(self, lost, because):
        assert found(locked(), "hand-lock-fitted", unknown=frozenset(lost)) == []
        told = [e for e in judged(locked(), unknown=frozenset(lost)).not_checked if e.check == "hand-lock-fitted"]
        assert told == [NotChecked(check="hand-lock-fitted", file="hall.yaml", because=because)]

    def test_what_it_does_not_need_may_be_lost(self):
        assert found(locked(), "hand-lock-fitted", unknown=frozenset({"rooms"}))

    @pytest.mark.parametrize(
        ("refused", "because"),
        [
            ((), "lock of the sash is not given"),
            (("openings/W-1/lock",), "lock of the sash is not known"),
            (("openings/W-9/lock", "site/name"), "lock of the sash is not given"),
        ],
    )
    def test_what_is_given_and_refused_is_not_called_missing(self, refused, because):
        told = not_checked(plan(openings={"W-1": {"lock": None}}), "hand-lock-fitted", unknown=frozenset(refused))
        assert told == [(because, ("W-1",))]

    @pytest.mark.parametrize(("refused", "word"), [("site/wind_m_s", "known"), ("site/date", "given")])
    def test_a_refused_field_of_the_site(self, refused, word):
        data = plan()
        del data["site"]["wind_m_s"]
        told = not_checked(data, "thrust-too-small", unknown=frozenset((refused,)))
        assert told == [(f"site.wind_m_s is not {word}", ())]

    def test_ids_are_gathered_once_in_the_order_they_came(self):
        data = plan(openings={key: {"type": "sash", "room": "room", "stays": None} for key in ("W-3", "W-1", "W-2")})
        for number in (3, 2):
            data["actuators"][f"A-{number}"] = {"type": "chain", "opening": f"W-{number}"}
        for fields in (*data["openings"].values(), data["types"]["openings"]["sash"]):
            fields.pop("stays", None)
        assert not_checked(data, "friction-stay-fitted") == [
            ("stays of the sash is not given", ("W-1", "W-3", "W-2")),
        ]

    def test_in_order_of_checks_and_reasons(self):
        data = plan()
        del data["types"]["openings"]["sash"]["lock"], data["types"]["openings"]["sash"]["stays"]
        del data["types"]["actuators"]["chain"]["stroke_max_mm"], data["actuators"]["A-1"]["stroke_mm"]
        told = [(e.file, e.check, e.because) for e in judged(data).not_checked]
        assert told == sorted(told)
        assert len(told) > 3


class TestAccepted:
    """An acceptance speaks of a check's findings at a place, below it, or about a thing, until its last day."""

    @pytest.mark.parametrize(
        ("at", "speaks"),
        [
            ("/openings/W-1/lock", True),
            ("/openings/W-1", True),
            ("/openings/W-1/", True),
            ("/openings", True),
            ("/", False),
            ("/openings/W-10", False),
            ("/openings/W", False),
            ("/openings/W-1/lock/x", False),
            ("/rooms/room", False),
        ],
    )
    def test_place(self, at, speaks):
        data = locked({"check": "hand-lock-fitted", "at": at, "because": "a guard has the key"})
        (told,) = found(data, "hand-lock-fitted")
        assert told.file == "hall.yaml"
        assert "lock: hand" in as_yaml(data).splitlines()[told.line - 1]
        assert told.accepted == ("a guard has the key" if speaks else None)
        unused = found(data, "acceptance-unused")
        assert [(f.message, f.about, f.file) for f in unused] == [
            (
                f"nothing is found any more that this accepts: hand-lock-fitted at {at}; take it out",
                f"accepted/hand-lock-fitted{at}", "hall.yaml",
            )
        ] * (not speaks)  # fmt: skip
        assert all(at in as_yaml(data).splitlines()[f.line - 1] for f in unused)

    def test_about(self):
        """The finding stands in the record, and is about an actuator."""
        at = "/actuators/A-1"
        accepted = [{"check": "walk-test-missing", "at": at, "because": "tested tomorrow"}]
        data = plan(state="as-commissioned", record={"actuators": {"A-1": {"calibrated": True}}}, accepted=accepted)
        told = {f.about: (f.at, f.accepted) for f in found(data, "walk-test-missing")}
        assert told == {
            "actuators/A-1": ("/record/actuators/A-1", "tested tomorrow"), "groups/G": ("/groups/G", None),
        }  # fmt: skip

    def test_another_check_at_the_same_place(self):
        data = locked({"check": "friction-stay-fitted", "at": "/openings/W-1/lock", "because": "known"})
        assert found(data, "hand-lock-fitted")[0].accepted is None

    @pytest.mark.parametrize(("until", "over"), [("2026-11-24", True), ("2026-11-25", False), ("2026-11-26", False)])
    def test_until_is_inclusive(self, until, over):
        data = locked({**LOCKED, "because": "known", "by": "engineer", "until": until})
        assert found(data, "hand-lock-fitted")[0].accepted == (None if over else "known")
        assert [(f.about, f.at, f.message) for f in found(data, "acceptance-expired")] == [
            (
                "accepted/hand-lock-fitted/openings/W-1", "/accepted/0",
                "accepted until 2026-11-24, which is over: hand-lock-fitted at /openings/W-1 is open again",
            )
        ] * over  # fmt: skip
        assert not found(data, "acceptance-unused")
        assert not found(data, "acceptance-unexplained")

    def test_a_last_day_that_could_not_be_read_accepts_nothing(self):
        data = locked({**LOCKED, "because": "known", "by": "engineer"})
        unknown = frozenset({"accepted/0/until"})
        assert found(data, "hand-lock-fitted", unknown=unknown)[0].accepted is None
        assert not found(data, "acceptance-unused", unknown=unknown)

    @pytest.mark.parametrize(
        ("first", "second", "reason"),
        [
            ({"because": "one"}, {"because": "two"}, "one"),
            ({"because": "one", "until": "2026-01-01"}, {"because": "two"}, "two"),
            ({}, {"because": "two"}, "no reason given"),
        ],
    )
    def test_the_first_that_holds_gives_the_reason(self, first, second, reason):
        data = locked({**LOCKED, **first}, {**LOCKED, **second})
        assert found(data, "hand-lock-fitted")[0].accepted == reason
        assert not found(data, "acceptance-unused")

    @pytest.mark.parametrize(
        ("fields", "lacks"),
        [
            ({}, "by whom and until when"),
            ({"by": "engineer"}, "until when"),
            ({"until": "2027-01-01"}, "by whom"),
            ({"by": "engineer", "until": "2027-01-01"}, None),
        ],
    )
    def test_an_error_is_accepted_by_somebody_and_for_a_time(self, fields, lacks):
        data = locked({**LOCKED, "because": "known", **fields})
        assert [(f.about, f.at, f.message) for f in found(data, "acceptance-unexplained")] == [
            (
                "accepted/hand-lock-fitted/openings/W-1",
                "/accepted/0",
                f"an error is accepted here without saying {lacks}",
            )
        ] * (lacks is not None)

    def test_a_warning_needs_neither(self):
        accepted = {"check": "finger-trap", "at": "/rooms/room", "because": "known"}
        data = plan(openings={"W-1": {"sill_mm": 900}}, accepted=[accepted])
        assert found(data, "finger-trap")[0].accepted == "known"
        assert not found(data, "acceptance-unexplained")

    def test_each_acceptance_for_itself(self):
        """One lacks its check or place, which reading tells; the next is judged all the same."""
        broken = [{"at": "/openings/W-1", "because": "x"}, {"check": "hand-lock-fitted", "because": "x"}]
        data = locked(*broken, {"check": "stroke-over-type", "at": "/actuators/A-1", "because": "x"})
        assert [f.at for f in found(data, "acceptance-unused")] == ["/accepted/2"]
        assert found(data, "hand-lock-fitted")[0].accepted is None

    def test_reading_s_findings_are_never_accepted(self):
        """What cannot be read is not known; an acceptance of it is told, and silences nothing."""
        told = runner.placed(
            entry("ambiguous-word").check, Problem("rooms/room", "/rooms/room/name", "told"), "hall.yaml", None
        )
        data = locked({"check": "ambiguous-word", "at": "/rooms/room", "because": "a name"})
        assert [f.accepted for f in found(data, "ambiguous-word", reading=[told])] == [None]
        (unused,) = found(data, "acceptance-unused", reading=[told])
        assert "none can be accepted" in unused.message

    @pytest.mark.parametrize("at", ["/openings/W-1", "openings/W-1", "/openings"])
    def test_a_place_is_a_pointer_or_as_printed(self, at):
        data = locked({"check": "hand-lock-fitted", "at": at, "because": "x", "by": "x", "until": "2030-01-01"})
        assert [f.accepted for f in found(data, "hand-lock-fitted")] == ["x"]

    @pytest.mark.parametrize(
        ("fields", "lost", "hidden"),
        [
            ({"stays": None}, frozenset(), True),  # the sash itself could not be judged
            ({}, frozenset({"openings/W-9/name"}), False),  # something was refused, and the check ran nevertheless
            ({}, frozenset({"openings"}), True),  # the check could not run
        ],
    )
    def test_what_could_not_be_checked_is_not_called_unused(self, fields, lost, hidden):
        accepted = {"check": "friction-stay-fitted", "at": "/openings/W-1", "because": "known"}
        data = plan(accepted=[accepted])
        if "stays" in fields:
            del data["types"]["openings"]["sash"]["stays"]
        assert bool(found(data, "acceptance-unused", unknown=lost)) != hidden
        assert (
            not_checked(data, "acceptance-unused", unknown=lost)
            == [("friction-stay-fitted could not be checked there", ())] * hidden
        )

    def test_unchecked_elsewhere_hides_nothing_here(self):
        accepted = {"check": "friction-stay-fitted", "at": "/openings/W-1", "because": "known"}
        data = plan(
            openings={"W-2": {"room": "room"}}, actuators={"A-2": {"type": "chain", "opening": "W-2"}},
            accepted=[accepted],
        )  # fmt: skip
        assert not_checked(data, "friction-stay-fitted") == [("stays of the sash is not given", ("W-2",))]
        assert found(data, "acceptance-unused")
        assert not found(data, "acceptance-unused", unknown=frozenset({"rooms/attic"}))  # now it may be

    @pytest.mark.parametrize(
        ("check", "at", "more"),
        [
            ("voltage-too-low", "/actuators/A-1", {}),  # no cable carries power: nothing was looked at
            ("link-spans-controllers", "/links/R-1", {"sensors": {"R-1": {"type": "plate"}}, "links": {"R-1": ["G"]}}),
        ],
    )
    def test_unchecked_as_a_whole_or_by_part_of_its_name(self, check, at, more):
        data = plan(accepted=[{"check": check, "at": at, "because": "known"}], **more)
        told = [entry for entry in judged(data).not_checked if entry.check == "acceptance-unused"]
        assert told == [
            NotChecked(check="acceptance-unused", file="hall.yaml", because=f"{check} could not be checked there")
        ]

    def test_a_saved_copy_has_none_to_judge(self):
        data = locked({**LOCKED, "because": "known"}, state="saved")
        assert judged(data).findings == []
