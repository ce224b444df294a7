"""Plain scalars by the YAML 1.2 core schema, and the words that a YAML 1.1 reader takes for something else."""

import math
import re

_WORDS: dict[str, bool | float | None] = {
    "": None,
    "~": None,
    **dict.fromkeys(("null", "Null", "NULL")),
    **dict.fromkeys(("true", "True", "TRUE"), True),
    **dict.fromkeys(("false", "False", "FALSE"), False),
    **dict.fromkeys((sign + word for sign in ("", "+") for word in (".inf", ".Inf", ".INF")), math.inf),
    **dict.fromkeys(("-.inf", "-.Inf", "-.INF"), -math.inf),
    **dict.fromkeys((".nan", ".NaN", ".NAN"), math.nan),
}
_INT = re.compile(r"[-+]?[0-9]+\Z")
_BASED = re.compile(r"0(?:o[0-7]+|x[0-9a-fA-F]+)\Z")
_FLOAT = re.compile(r"[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?\Z")
_NUMBER_STARTS = frozenset("0123456789+-.")

# YAML 1.1, yaml.org/type: bool, int and float. Timestamps are left out: every reader's date prints as it was written.
_WORDS_1_1 = frozenset(
    form for word in ("y", "n", "yes", "no", "on", "off") for form in (word, word.capitalize(), word.upper())
)
_DECIMAL_1_1 = re.compile(r"[-+]?(?:0|[1-9][0-9]*)\Z")
_FLOAT_1_1 = re.compile(r"[-+]?(?:[0-9][0-9]*)?\.[0-9]*(?:[eE][-+][0-9]+)?\Z")
_OCTAL_1_1 = re.compile(r"[-+]?0[0-7]+\Z")
_INT_ONLY_1_1 = re.compile(
    r"[-+]?(?:0b[01_]+|0[0-7_]+|(?:0|[1-9][0-9_]*)|0x[0-9a-fA-F_]+|[1-9][0-9_]*(?::[0-5]?[0-9])+)\Z"
)
_FLOAT_ONLY_1_1 = re.compile(
    r"[-+]?(?:(?:[0-9][0-9_]*)?\.[0-9_]*(?:[eE][-+][0-9]+)?|[0-9][0-9_]*(?::[0-5]?[0-9])+\.[0-9_]*)\Z"
)
# An integer of more digits than this is no figure of a plan; Python refuses to print some of them at all.
_MAX_DIGITS = 400


def resolve(text: str) -> bool | int | float | str | None:
    """Give a plain scalar its value by the YAML 1.2 core schema (YAML 1.2.2, section 10.3.2)."""
    if text in _WORDS:
        return _WORDS[text]
    if text[0] not in _NUMBER_STARTS:
        return text
    if len(text) > _MAX_DIGITS:
        return text
    if _INT.match(text):
        return int(text)
    if _BASED.match(text):
        return int(text, 0)
    if _FLOAT.match(text):
        return float(text)
    return text


def in_yaml_1_1(text: str) -> bool | int | float | str | None:
    """Give a plain scalar its value by the types of YAML 1.1 (yaml.org/type): bool, null, int and float."""
    if text in _WORDS_1_1:
        return text.lower() in {"y", "yes", "on"}
    if text in _WORDS:
        return _WORDS[text]
    digits = text.replace("_", "").lstrip("+-")
    sign = -1 if text.startswith("-") else 1
    if _INT_ONLY_1_1.match(text) and digits not in {"0b", "0x"}:
        if ":" in digits:
            return sign * _sexagesimal(digits)
        if digits[:2] in {"0b", "0x"}:
            return sign * int(digits, 0)
        return sign * int(digits, 8 if digits.startswith("0") else 10)
    if _FLOAT_ONLY_1_1.match(text) and digits.strip("."):
        return sign * (_sexagesimal(digits) if ":" in digits else float(digits))
    return text


def _sexagesimal(digits: str) -> int | float:
    """Read ``1:30`` as ninety; the last part may have a fraction."""
    *above, last = digits.split(":")
    total: int | float = 0
    for part in above:
        total = total * 60 + int(part)
    return total * 60 + (float(last) if "." in last else int(last))


def differs_in_yaml_1_1(text: str) -> bool:
    """Whether a YAML 1.1 reader would give this plain scalar another value than YAML 1.2 does."""
    if not text:
        return False
    if text[0] not in _NUMBER_STARTS:
        return text in _WORDS_1_1 or text == "="
    if _DECIMAL_1_1.match(text) or text in _WORDS:
        return False
    if _FLOAT_1_1.match(text):
        return text in {".", "+.", "-."}
    if _INT.match(text):  # with a leading zero: octal to YAML 1.1, or no number at all
        return not _OCTAL_1_1.match(text) or len(text.lstrip("+-0")) > 1
    if _BASED.match(text):
        return not text.startswith("0x")
    if _FLOAT.match(text):
        return True
    return bool(_INT_ONLY_1_1.match(text) or _FLOAT_ONLY_1_1.match(text))
