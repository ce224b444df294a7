"""What is refused, by which words and where; and that nothing in a file can stop the reader."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from steps import steps

from zonecfg.document.limits import MAX_BYTES, MAX_DEPTH, MAX_REFUSALS, MAX_SCALAR
from zonecfg.document.reader import Document, read


def one(raw: bytes | str, check: str = "unreadable-file") -> tuple[int, int, str]:
    """Read what has exactly one fault; give its line, column and message."""
    document = read(raw.encode() if isinstance(raw, str) else raw, "plan.yaml")
    (fault,) = document.faults
    assert fault.check == check
    assert fault.severity == ("warning" if check == "ambiguous-word" else "error")
    assert fault.file == "plan.yaml"
    if check == "unreadable-file":
        assert document.data is None
        assert document.places.of("/anything") is None
    return fault.line, fault.column, fault.message


# Places are counted by hand; what is begun and does not end stands where it begins. Words are the ones the format uses for what it leaves out (anchors, aliases, merge keys,
# tags, directives, second documents).
@pytest.mark.parametrize(
    ("text", "line", "column", "word"),
    [
        ("a: &base {b: 1}\n", 1, 4, "anchor (&base)"),
        ("a: 1\nb: &here x\n", 2, 4, "anchor (&here)"),
        ("&k a: 1\n", 1, 1, "anchor (&k)"),
        ("- &i 1\n", 1, 3, "anchor (&i)"),
        ("a: *base\n", 1, 4, "alias (*base)"),
        ("*base : 1\n", 1, 1, "alias (*base)"),
        ("a:\n  <<: {b: 1}\n", 2, 3, "merge key (<<)"),
        ("a: {b: 1, <<: {c: 1}}\n", 1, 11, "merge key (<<)"),
        ("a: !!str 1\n", 1, 4, "tag (!!str)"),
        ("a: !mine {b: 1}\n", 1, 4, "tag (!mine)"),
        ("!!map\na: 1\n", 1, 1, "tag (!!map)"),
        ("a: ! 1\n", 1, 4, "tag (!)"),
        ("!!python/object/apply:os.system ['true']\n", 1, 1, "tag (!!python/object/apply:os.system)"),
        ("a: !<tag:yaml.org,2002:binary> aGk=\n", 1, 4, "tag (!!binary)"),
        ("%YAML 1.2\n---\na: 1\n", 1, 1, "directive"),
        ("%TAG !e! tag:example.org,2000:\n---\na: 1\n", 1, 1, "directive"),
        ("a: 1\n---\nb: 2\n", 2, 1, "second document"),
        ("a: 1\n...\n---\n", 3, 1, "second document"),
        ("a: 1\n...\nb: 2\n", 3, 1, "second document"),
        ("a: .nan\n", 1, 4, ".nan"),
        ("a: {b: -.Inf}\n", 1, 8, "-.Inf"),
        ("x-a: {b: .inf}\n", 1, 10, ".inf"),
        ("? [a, b]\n: 1\n", 1, 3, "list or mapping cannot be a key"),
        ("? {a: 1}\n: 1\n", 1, 3, "list or mapping cannot be a key"),
        ("a:\n\tb: 1\n", 2, 1, "tab"),
        ("a: @b\n", 1, 4, "@"),
        ("a: b: c\n", 1, 5, "colon"),
        ("a:\n    b: 1\n  c: 2\n", 3, 3, "indentation"),
        ("a: [1, 2\n", 1, 4, "bracket"),
        ("a: {b: 1\n", 1, 4, "braces"),
        ('a: "b\nc: d\n', 1, 4, "quoted"),
        ("a: 'b\n", 1, 4, "quoted"),
        ("a: 1\nb: {c: 1\nd: 2\n", 2, 4, "braces"),
        ("a: 1\nb: [c, d\ne: 2\nf: 3\n", 2, 4, "bracket"),
        ("a: 1\nb: 'open\nc: 2\nd: 3\n", 2, 4, "quoted"),
        ("a: 1\nrevision A\nb: 2\n", 2, 1, "colon"),
        ("a: 1\n<<<<<<< ours\nb: 2\n=======\nb: 3\n>>>>>>> theirs\n", 2, 1, "decide for one"),
        ('a: "\\q"\n', 1, 5, "backslash"),
        ("a\nb: 1\n", 2, 2, "colon"),
        ("", 1, 1, "empty"),
        ("\n\n", 1, 1, "empty"),
        ("# only\n# comments\n", 1, 1, "empty"),
        ("---\n", 1, 1, "empty"),
        ("---\n...\n", 1, 1, "empty"),
        ("~\n", 1, 1, "empty"),
        ("null # nothing\n", 1, 1, "empty"),
        ("\ufeff", 1, 1, "empty"),
        ("a: 1\nb: x\x07y\n", 2, 5, "U+0007"),
        ("a: \x00\n", 1, 4, "U+0000"),
        ("# \x1b[31m\na: 1\n", 1, 3, "U+001B"),
        ("a: \x7f\n", 1, 4, "U+007F"),
        ("a: \ufffe\n", 1, 4, "U+FFFE"),
        ("a: 1 # note\u2028b: 2\n", 1, 12, "U+2028"),
        ("a: 'p\u2029q'\n", 1, 6, "U+2029"),
        ("a: p\x85b: 2\n", 1, 5, "U+0085"),
    ],
)
def test_refused_with_its_place(text, line, column, word):
    """What the format leaves out is refused by name; what is not YAML, in words for somebody who writes a plan."""
    found = one(text)
    assert found[:2] == (line, column), found
    assert word.lower() in found[2].lower()


@pytest.mark.parametrize(
    ("raw", "line", "column", "word"),
    [
        (b"a: b\xff\n", 1, 5, "0xff"),
        (b"a: 1\r\nb: caf\xe9\r\n", 2, 7, "0xe9"),
        (b"a: \xc0\xaf\n", 1, 4, "0xc0"),  # an overlong slash
        (b"a: \xed\xa0\x80\n", 1, 4, "0xed"),  # half of a surrogate pair
        (b"a: \xf4\x90\x80\x80\n", 1, 4, "0xf4"),  # beyond U+10FFFF
        (b"a: \xe2\x82", 1, 4, "0xe2"),  # cut off
        ("a: 1\n".encode("utf-16"), 1, 1, "UTF-16"),
        ("a: 1\n".encode("utf-16-be"), 1, 1, "U+0000"),
        (b"\xfe\xff\x00a", 1, 1, "UTF-16"),
    ],
)
def test_encodings(raw, line, column, word):
    """RFC 3629 says which bytes are UTF-8: no overlong form, no surrogate, nothing beyond U+10FFFF."""
    found = one(raw)
    assert found[:2] == (line, column)
    assert word in found[2]


def test_every_refusal_of_a_file_is_told():
    """Mended one at a time, five faults would take five runs."""
    document = read(b"a: &x 1\nb: *x\nc: !t 1\nd: .nan\n<<: {e: 1}\n", "f")
    assert [(f.check, f.line) for f in document.faults] == [("unreadable-file", n) for n in range(1, 6)]
    assert document.data is None


def test_refusals_are_counted_out():
    document = read(b"".join(b"k%d: &a 1\n" % number for number in range(500)), "f")
    assert len(document.faults) == MAX_REFUSALS + 1
    assert document.faults[-1].line == MAX_REFUSALS
    assert "stopped" in document.faults[-1].message


class TestDuplicates:
    """YAML 1.2.2, section 3.2.1.1: the keys of a mapping are unique."""

    @pytest.mark.parametrize(
        ("text", "at", "line", "column", "first", "data"),
        [
            ("a: 1\nb: 2\na: 3\n", "/a", 3, 1, 1, {"a": 1, "b": 2}),
            ("g:\n  e: {m: 1}\n  e: {m: 2, n: 3}\n  f: 4\n", "/g/e", 3, 3, 2, {"g": {"e": {"m": 1}, "f": 4}}),
            ("{a: 1, b: {c: 1, c: 2}}\n", "/b/c", 1, 18, 1, {"a": 1, "b": {"c": 1}}),
            ("x-l:\n- {k: 1}\n- {k: 1, 'k': 2}\n", "/x-l/1/k", 3, 10, 3, {"x-l": [{"k": 1}, {"k": 1}]}),
            ("101: a\n'101': b\n", "/101", 2, 1, 1, {"101": "a"}),
            ("a/b: 1\na/b: 2\n", "/a~1b", 2, 1, 1, {"a/b": 1}),
        ],
    )
    def test_both_lines_are_named_and_the_first_counts(self, text, at, line, column, first, data):
        document = read(text.encode(), "f")
        (fault,) = document.faults
        assert (fault.check, fault.at, fault.line, fault.column) == ("duplicate-key", at, line, column)
        assert [(r.at, r.line) for r in fault.related] == [(at, first)]
        assert document.data == data

    def test_a_third_time(self):
        document = read(b"a: 1\na: 2\na: 3\nb: 4\n", "f")
        assert [(f.check, f.line, f.related[0].line) for f in document.faults] == [
            ("duplicate-key", 2, 1),
            ("duplicate-key", 3, 1),
        ]
        assert document.data == {"a": 1, "b": 4}

    def test_places_behind_a_dropped_value_are_right(self):
        document = read(b"a: {x: 1}\na: {x: [1, 2, {y: z}]}\nb:\n  c: 5\na: 6\nd: 7\n", "f")
        assert document.places.of("/b/c") == (4, 6, 7)
        assert document.places.of("/d") == (6, 4, 5)
        assert document.places.of("/a/x") == (1, 8, 9)

    def test_keys_that_only_look_alike_are_two_keys(self):
        """Keys are text: 1, 1.0 and 0x1 are three, and so are é composed and decomposed."""
        document = read("1: a\n1.0: b\n0x1: c\n\u00e9: d\ne\u0301: e\nno: f\nNo: g\n".encode(), "f")
        assert document.faults == ()
        assert len(document.data) == 7

    def test_many(self):
        """Reading stops after some: what a file of a hundred times as many costs more is the counting of its lines."""
        few, many = (b"a: {b: 1}\n" * count for count in (1_000, 100_000))
        document = read(many, "f")
        assert document.faults[0].check == "duplicate-key"
        assert len(document.faults) <= MAX_REFUSALS + 1
        assert steps(lambda: read(many, "f")) < steps(lambda: read(few, "f")) + 2 * many.count(b"\n")


class TestLimits:
    """A hostile file gets one clear error, with bounded work."""

    @pytest.mark.parametrize(
        "raw",
        [
            b"#" * (MAX_BYTES + 1),
            b"a: " + b"x" * (MAX_SCALAR + 1),
            b'a: "' + b"x " * MAX_SCALAR + b'"',
            b"a: '" + b"x\n  " * MAX_SCALAR + b"'\n",
            b"a: |\n" + b"  x\n" * MAX_SCALAR,
            b"? " + b"k" * (MAX_SCALAR + 1) + b"\n: 1\n",
            b"[" * 1_000_000,
            b"{a: " * 1_000_000,
            b"- " * 100_000,
            b"".join(b" " * depth + b"a:\n" for depth in range(3_000)),
            b"a: " + b"0" * 5_000_000,
            b'a: "' + b"\\x41" * 3_000_000,
            b"&a [" * 100_000,
            b"!a " * 100_000,
            b"? " * 100_000,
            b"a: [" + b"*a, " * 1_000_000,
        ],
        ids=lambda raw: repr(raw[:12]),
    )
    def test_one_error(self, raw):
        document = read(raw, "f")
        assert document.data is None
        assert 1 <= len(document.faults) <= MAX_REFUSALS + 1
        assert all(len(fault.message) < 400 for fault in document.faults)

    def test_depth(self):
        """The limit itself is allowed, one more is not."""
        assert read(b"[" * MAX_DEPTH + b"]" * MAX_DEPTH, "f").faults == ()
        line, column, message = one(b"[" * (MAX_DEPTH + 1) + b"]" * (MAX_DEPTH + 1))
        assert (line, column) == (1, MAX_DEPTH + 1)
        assert str(MAX_DEPTH) in message

    def test_length_of_a_text(self):
        assert read(b"a: " + b"x" * MAX_SCALAR, "f").faults == ()
        line, column, message = one(b"a: " + b"x" * (MAX_SCALAR + 1))
        assert (line, column) == (1, 4)
        assert f"{MAX_SCALAR:,}" in message

    def test_alias_bomb(self):
        """Nine levels of nine aliases each would be a thousand million nodes."""
        names = "abcdefghi"
        bomb = "a: &a [x, x, x, x, x, x, x, x, x]\n" + "".join(
            f"{name}: &{name} [{', '.join(['*' + names[index]] * 9)}]\n" for index, name in enumerate(names[1:])
        )
        assert len(bomb) < 500
        document = read(bomb.encode(), "f")
        assert document.data is None
        assert "anchor" in document.faults[0].message
        assert steps(lambda: read(bomb.encode(), "f")) < 100 * len(bomb)

    def test_a_number_of_many_digits_is_no_number(self):
        """Python itself refuses to print integers of more than 4,300 digits: such a value must not travel."""
        assert read(b"x-a: {b: " + b"9" * 5_000 + b"}\n", "f").data == {"x-a": {"b": "9" * 5_000}}
        assert read(b"x-a: {b: 1e999}\n", "f").data is None

    def test_growth_is_linear(self):
        """Ten times the text is ten times the work."""

        def work(keys: int) -> int:
            raw = b"".join(b"k%d: {a: 1, b: [x, y], c: text here}\n" % number for number in range(keys))
            return steps(lambda: read(raw, "f"))

        assert work(5_000) < 11 * work(500)


class TestNothingStopsTheReader:
    """It never raises for content: what cannot be read is a finding."""

    @staticmethod
    def check(document: Document) -> None:
        assert isinstance(document, Document)
        unreadable = any(fault.check == "unreadable-file" for fault in document.faults)
        assert (document.data is None) == unreadable
        for fault in document.faults:
            assert fault.line >= 1
            assert fault.column >= 1
            assert fault.end_column is None or fault.end_column > fault.column
            assert "\n" not in fault.message

    @settings(max_examples=400)
    @given(st.binary(max_size=200))
    def test_any_bytes(self, raw):
        self.check(read(raw, "f"))

    @settings(max_examples=800)
    @given(st.lists(st.sampled_from([
        "a", "b", ": ", ":", "- ", "? ", "\n", "\n  ", "\n    ", " ", "\t", "{", "}", "[", "]", ", ", "'", '"', "|",
        ">", "&x ",
        "*x", "!t ", "!!str ", "<<", "# c", "---", "...", "%YAML 1.2", "~", "1", "0x", ".nan", "x-", "\\", "\r", "\r\n",
        "\ufeff", "\u2028", "\x00", "é", "😀", "a: b\n", "- c\n",
    ]), max_size=25).map("".join))  # fmt: skip
    def test_pieces_of_yaml(self, text):
        self.check(read(text.encode(), "f"))

    @settings(max_examples=200)
    @given(st.data())
    def test_a_plan_with_one_byte_changed(self, data):
        from sites import site_text

        raw = bytearray(site_text(3).encode())
        at = data.draw(st.integers(0, len(raw) - 1))
        raw[at] = data.draw(st.integers(0, 255))
        self.check(read(bytes(raw), "f"))


def test_a_double_within_a_double():
    """What is passed over is still read to its end; both doubles are told, each at its own place."""
    text = b"a: {x: 1}\na:\n  y: 1\n  y: 2\nb: 3\n"
    document = read(text, "f.yaml")
    assert document.data == {"a": {"x": 1}, "b": 3}
    assert [(f.check, f.at, f.line, f.column) for f in document.faults] == [
        ("duplicate-key", "/a", 2, 1),
        ("duplicate-key", "/a/y", 4, 3),
    ]
    assert document.places.of("/b").line == 5
