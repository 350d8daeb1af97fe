"""What goes wrong, as exceptions and warnings; raised by becalm._core."""

from __future__ import annotations


class Problem(Exception):
    """Something that is wrong, where, and what to do about it. str() says it all in one line.

    what     what is wrong
    remedy   what to do; may be empty
    file     where; empty where it is no file
    line     of the file, from 1, or None
    column   of the line, from 1, or None
    key      dotted key in a TOML file; else empty
    kind     'usage' (the call), 'bad input' (a file says something that cannot be used), 'outside world' (missing, unreadable, full)
    others   further Problems found at the same time, so that a file can be mended in one sitting
    """

    def __init__(self, text: str, what: str = "", remedy: str = "", file: str = "", line: int | None = None, column: int | None = None,
                 key: str = "", kind: str = "usage", others: tuple[Problem, ...] = ()):
        super().__init__(text, what, remedy, file, line, column, key, kind, others)  # what pickle hands to a copy, in a pool of processes
        self.text = text
        self.what = what
        self.remedy = remedy
        self.file = file
        self.line = line
        self.column = column
        self.key = key
        self.kind = kind
        self.others = others

    def __repr__(self) -> str:
        return f"Problem({str(self)!r})"

    def __str__(self) -> str:
        return "\n".join([self.text, *(str(other) for other in self.others)])


class Caution(UserWarning):
    """Something that spoils nothing else: a recording or a criterion that cannot be read, a cache that cannot be kept."""


for _one in (Problem, Caution):
    _one.__module__ = "becalm"  # where people find them
