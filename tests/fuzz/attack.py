"""Attacks every reader with damaged files for a stated time: ``python tests/fuzz/attack.py --seconds 600 [--seed 7]``.

Plans are damaged in their structure (values of the wrong shape, keys too many and too few, lines moved) and in their
bytes; worksheets and found lists in their cells and bytes. What comes out must be an answer or an error said on purpose,
in two seconds and 300 MB. An input that breaks this is written to the folder named by ``--keep``.
"""

import argparse
import csv
import io
import random
import resource
import sys
import tempfile
import time
import zipfile
from collections.abc import Callable
from datetime import date
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))

from sites import commissioned_text, site_text

from zonecfg.errors import ZonecfgError
from zonecfg.report import FINDINGS_ONLY, FORMATS, render
from zonecfg.workflow.check import check
from zonecfg.workflow.compare import compare
from zonecfg.workflow.figures import figures
from zonecfg.workflow.format import format_files
from zonecfg.workflow.identify import identify
from zonecfg.workflow.match import match
from zonecfg.workflow.merge import merge
from zonecfg.workflow.record import record
from zonecfg.workflow.rehearse import rehearse
from zonecfg.workflow.review import review
from zonecfg.workflow.rollback import rollback
from zonecfg.workflow.textconv import textconv
from zonecfg.workflow.worksheet import worksheet

ROOT = Path(__file__).parents[2]
EXAMPLES = ROOT / "examples"
TODAY = date(2026, 11, 25)
LONGEST_S = 2.0
MOST_MB = 300.0
WORDS = [b"{", b"}", b"[", b"]", b": ", b"- ", b"\n", b"\t", b"&a ", b"*a", b"!!str ", b"<<: ", b"? ", b"|\n", b"%YAML 1.1\n",
         b"---\n", b"...\n", b"\xff", b"\x00", b"\xc2\x85", b"\xe2\x80\xa8", b"\xef\xbb\xbf", b"#", b"'", b'"', b"\\", b".nan", b".inf",
         b"-1e308", b"1e400", b"9" * 400, b"0x7fffffffffffffff", b"null", b"true", b"~", b"x-own: ", b"\r", b"=1+1", b"../" * 20,
         b"/", b"\x1b[31m", b"\xf0\x9f\xaa\x9f", b" " * 60]  # fmt: skip


class Broken(Exception):
    """An input that made a reader fail, take too long or too much."""


def damaged_bytes(chance: random.Random, raw: bytes) -> bytes:
    """Damage a file as a slipping hand or a bad copy would."""
    text = bytearray(raw)
    for _ in range(chance.choice([1, 1, 1, 2, 3, 8])):
        at = chance.randrange(len(text) + 1)
        end = min(len(text), at + chance.choice([1, 1, 2, 5, 20, 200]))
        match chance.randrange(7):
            case 0:
                text[at:end] = b""
            case 1:
                text[at:at] = chance.choice(WORDS)
            case 2:
                text[at:end] = chance.choice(WORDS)
            case 3:
                text[at:at] = text[at:end] * chance.choice([1, 2, 50])
            case 4 if text:
                text[min(at, len(text) - 1)] = chance.randrange(256)
            case 5:
                del text[at:]
            case _:
                lines = bytes(text).split(b"\n")
                one, other = chance.randrange(len(lines)), chance.randrange(len(lines))
                lines[one], lines[other] = lines[other], lines[one]
                text[:] = b"\n".join(lines)
    return bytes(text)


def damaged_plan(chance: random.Random, raw: bytes) -> bytes:
    """Damage a plan line by line, so that most of it still means something."""
    lines = raw.decode("utf-8", "replace").split("\n")
    for _ in range(chance.choice([1, 1, 2, 3, 6])):
        at = chance.randrange(len(lines))
        head, colon, value = lines[at].partition(": ")
        match chance.randrange(8):
            case 0:
                del lines[at]
            case 1:
                lines.insert(chance.randrange(len(lines) + 1), lines[at])
            case 2 if colon:
                lines[at] = f"{head}: {chance.choice(lines).strip()}"
            case 3 if colon:
                lines[at] = (
                    f"{head}: {chance.choice(['', '-1', '0', '1e9', 'A-1', '[]', '{}', '[A-1, A-1]', 'true', '8.0'])}"
                )
            case 4:
                lines[at] = "  " * chance.randrange(4) + lines[at].strip()
            case 5 if colon:
                lines[at] = f"{chance.choice(lines).partition(':')[0]}: {value}"
            case 6:
                lines[at] = lines[at].replace(*chance.sample(["1", "2", "-", "A", "G", ", ", "_", "0"], 2))
            case _:
                cut = sorted(chance.randrange(len(lines)) for _ in range(2))
                lines[cut[0] : cut[1]] = []
        lines = lines or [""]
    return "\n".join(lines).encode()


def damaged_table(chance: random.Random, raw: bytes) -> bytes:
    """Damage a CSV file cell by cell."""
    rows = list(csv.reader(io.StringIO(raw.decode("utf-8-sig", "replace"))))
    values = [
        "",
        "=1+1",
        "118,5",
        "118 mm",
        "nan",
        "pass",
        "yes",
        "-1",
        "9" * 30,
        "A-011",
        "2026-02-30",
        "\x1b[31m",
        "x" * 3000,
    ]
    for _ in range(chance.choice([1, 2, 5, 20])):
        row = chance.choice(rows)
        match chance.randrange(5):
            case 0 if row:
                row[chance.randrange(len(row))] = chance.choice(values)
            case 1:
                rows.insert(chance.randrange(len(rows) + 1), list(chance.choice(rows)))
            case 2 if len(rows) > 1:
                rows.remove(row)
            case 3 if row:
                del row[chance.randrange(len(row))]
            case _:
                row.append(chance.choice(values))
    out = io.StringIO()
    csv.writer(out, delimiter=chance.choice(",,,;\t")).writerows(rows)
    return out.getvalue().encode()


def damaged_workbook(chance: random.Random, raw: bytes) -> bytes:
    """Damage one part inside a workbook, or the archive around it."""
    if chance.random() < 0.3:
        return damaged_bytes(chance, raw)
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(raw)) as old, zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as new:
        hit = chance.choice(old.namelist())
        for name in old.namelist():
            part = old.read(name)
            new.writestr(name, damaged_bytes(chance, part) if name == hit else part)
    return out.getvalue()


class Target:
    """Something to attack: seeds, how they are damaged, and what is done with the result."""

    def __init__(
        self,
        name: str,
        seeds: list[bytes],
        damage: Callable[[random.Random, bytes], bytes],
        use: Callable[[Path, random.Random], None],
        suffix: str,
    ) -> None:
        self.name, self.seeds, self.damage, self.use, self.suffix = name, seeds, damage, use, suffix

    def attack(self, chance: random.Random, folder: Path) -> bytes:
        """Damage one seed and use it; give what it became.

        Raises
        ------
        Broken
            It was not taken well.
        """
        raw = self.damage(chance, chance.choice(self.seeds))
        path = folder / f"input{self.suffix}"
        path.write_bytes(raw)
        before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
        begun = time.perf_counter()
        try:
            self.use(path, chance)
        except ZonecfgError as error:
            if not str(error):
                raise Broken(f"{self.name}: an error without words") from error
        except Exception as error:
            raise Broken(f"{self.name}: {type(error).__name__}: {error}") from error
        took = time.perf_counter() - begun
        grown = (resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before) / 1024
        if took > LONGEST_S * max(1.0, len(raw) / 1e6):
            raise Broken(f"{self.name}: {took:.1f} s for {len(raw):,} bytes")
        if grown > MOST_MB:
            raise Broken(f"{self.name}: {grown:.0f} MB more for {len(raw):,} bytes")
        return raw


def tell(outcome: object) -> None:
    """Write an answer in every format that tells it."""
    for name in FORMATS:
        if name not in FINDINGS_ONLY or outcome.judges:  # type: ignore[attr-defined]
            render(name, outcome)  # type: ignore[arg-type]


def targets(folder: Path) -> list[Target]:
    """Give everything to attack; ``folder`` holds what the attacks need beside their input."""
    house = EXAMPLES / "larkenby-hall"
    small, built = folder / "small.yaml", folder / "small-built.yaml"
    small.write_text(site_text(12), "utf-8")
    built.write_text(commissioned_text(12), "utf-8")
    for name in ("as-designed.yaml", "equipment.yaml"):
        (folder / name).write_bytes((house / name).read_bytes())
    sheets = {suffix: folder / f"sheet{suffix}" for suffix in (".csv", ".xlsx")}
    for sheet in sheets.values():
        worksheet(small, sheet, force=True)
    plans = [
        small.read_bytes(),
        built.read_bytes(),
        *(p.read_bytes() for p in sorted(EXAMPLES.glob("checks/*/bad.yaml"))),
    ]
    moving = [p.read_bytes() for p in sorted(EXAMPLES.glob("r*/*/*.yaml"))]
    copies = [p.read_bytes() for p in sorted(EXAMPLES.glob("rollback/*/copy*.yaml"))]
    now = EXAMPLES / "rollback" / "two-controllers" / "now.yaml"

    def judge(path: Path, _: random.Random) -> None:
        tell(check([path], TODAY))
        tell(figures(path))

    def differ(path: Path, chance: random.Random) -> None:
        pair = [path, chance.choice([small, built])]
        chance.shuffle(pair)
        tell(compare(*pair, TODAY))

    def weigh(path: Path, _: random.Random) -> None:
        tell(rollback(now, [path], TODAY))

    def play(path: Path, chance: random.Random) -> None:
        tell(rehearse(path, wet=["R-1@1..10"], fire_minute=chance.choice([None, 3.0])))

    def look_over(path: Path, _: random.Random) -> None:
        with tempfile.TemporaryDirectory(dir=folder) as name:
            site = Path(name)
            (site / "as-designed.yaml").write_bytes(small.read_bytes())
            (site / "as-commissioned.yaml").write_bytes(path.read_bytes())
            tell(review(site, TODAY))

    def take_in(path: Path, _: random.Random) -> None:
        record(small, path, folder / "record.yaml", date(2026, 6, 1), force=True, any_revision=True)

    def pair_up(path: Path, _: random.Random) -> None:
        tell(match(small, path))

    def rewrite(path: Path, _: random.Random) -> None:
        convert = textconv(path)
        if convert != textconv(path):
            raise AssertionError("two conversions differ")
        format_files([path])
        if format_files([path], check=True)[0]:
            raise AssertionError("formatted, and not in order")

    def put_together(path: Path, chance: random.Random) -> None:
        sides = [path, small, built]
        chance.shuffle(sides)
        merge(*sides, TODAY, path=folder / "merged.yaml")

    def decode(path: Path, _: random.Random) -> None:
        tell(identify(house / "as-designed.yaml", unlabelled, seen=path))

    work = house / "site-work"
    unlabelled = work / "unlabelled.csv"
    seen_in = {path.suffix: path.read_bytes() for path in sorted(work.glob("seen-*"))}
    found = b"serial,controller,type,order\n" + b"".join(b"7%05d,C-1,chain-24-350,%d\n" % (n, n) for n in range(12))
    return [
        Target("plan, bytes", plans, damaged_bytes, judge, ".yaml"),
        Target("plan, lines", plans, damaged_plan, judge, ".yaml"),
        Target("compare", [small.read_bytes(), built.read_bytes()], damaged_plan, differ, ".yaml"),
        Target("rollback", copies, damaged_plan, weigh, ".yaml"),
        Target("rehearse", moving, damaged_plan, play, ".yaml"),
        Target("review", [built.read_bytes()], damaged_plan, look_over, ".yaml"),
        Target("sheet, csv", [sheets[".csv"].read_bytes()], damaged_table, take_in, ".csv"),
        Target("sheet, bytes", [sheets[".csv"].read_bytes()], damaged_bytes, take_in, ".csv"),
        Target("sheet, xlsx", [sheets[".xlsx"].read_bytes()], damaged_workbook, take_in, ".xlsx"),
        Target("format", plans, damaged_plan, rewrite, ".yaml"),
        Target("merge", [small.read_bytes(), built.read_bytes()], damaged_plan, put_together, ".yaml"),
        Target("observer sheet, csv", [seen_in[".csv"]], damaged_table, decode, ".csv"),
        Target("observer sheet, xlsx", [seen_in[".xlsx"]], damaged_workbook, decode, ".xlsx"),
        Target("observer sheet, json", [seen_in[".json"]], damaged_bytes, decode, ".json"),
        Target("found list", [found], damaged_table, pair_up, ".csv"),
        Target("found list, bytes", [found], damaged_bytes, pair_up, ".csv"),
    ]


def main() -> int:
    """Attack until the time is over; 1 where something broke."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--seconds", type=float, default=60.0)
    parser.add_argument("--seed", type=int, default=20_261_125)
    parser.add_argument("--keep", type=Path, default=Path("broken"), help="folder for inputs that broke something")
    asked = parser.parse_args()
    chance = random.Random(asked.seed)
    broken: dict[str, int] = {}
    counts: dict[str, int] = {}
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        (folder / ".git").mkdir()
        every = targets(folder)
        end = time.monotonic() + asked.seconds
        while time.monotonic() < end:
            for target in every:
                counts[target.name] = counts.get(target.name, 0) + 1
                try:
                    target.attack(chance, folder)
                except Broken as error:
                    words = str(error)[:160]
                    broken[words] = broken.get(words, 0) + 1
                    if broken[words] == 1:
                        asked.keep.mkdir(exist_ok=True)
                        kept = asked.keep / f"{target.name.replace(', ', '-')}-{len(broken)}{target.suffix}"
                        kept.write_bytes((folder / f"input{target.suffix}").read_bytes())
                        print(f"{words}\n  kept as {kept}", flush=True)
    print(f"{sum(counts.values()):,} attacks: {', '.join(f'{n} {name}' for name, n in counts.items())}")
    print(f"{len(broken)} ways to break it" if broken else "nothing broke")
    return int(bool(broken))


if __name__ == "__main__":
    sys.exit(main())
