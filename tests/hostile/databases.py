"""Folders of strangers in which something stands where a build's database should.

Each changes a build that is whole. What is told of it stands beside it; empty where it does no
harm, and the build is read as it is.
"""

import os
import socket
import sqlite3
import struct
from collections.abc import Callable, Iterator, Mapping
from contextlib import closing, contextmanager
from pathlib import Path

from snugset.journal import schema
from snugset.journal.first_look import PAGE

TABLES = "its tables are not those of a journal"
DAMAGED = "the journal is left as it is"
BESIDE = "which Snugset never writes"


@contextmanager
def _raw(folder: Path) -> Iterator[sqlite3.Connection]:
    file = folder / schema.FILE
    with closing(sqlite3.connect(file, isolation_level=None)) as connection:
        yield connection


def _statements(*statements: str) -> Callable[[Path], None]:
    def change(folder: Path) -> None:
        with _raw(folder) as connection:
            for statement in statements:
                connection.execute(statement)

    return change


def _as_if_ours(*statements: str, events: str = "") -> Callable[[Path], None]:
    """Change rows as no journal lets them be changed, and put the words of its tables back.

    `events` are other columns for the table meanwhile.
    """

    def change(folder: Path) -> None:
        with _raw(folder) as connection:
            ours = connection.execute("SELECT name, sql FROM sqlite_schema").fetchall()
            connection.execute("PRAGMA writable_schema = ON")
            connection.execute("DELETE FROM sqlite_schema WHERE type = 'trigger'")
            if events:
                connection.execute(
                    "UPDATE sqlite_schema SET sql = ? WHERE name = 'events'", (events,)
                )
            connection.execute("PRAGMA writable_schema = RESET")
        with _raw(folder) as connection:
            connection.execute("PRAGMA ignore_check_constraints = ON")
            for statement in statements:
                connection.execute(statement)
            for name, sql in ours:
                if name.startswith("events_"):
                    connection.execute(sql)
            connection.execute("PRAGMA writable_schema = ON")
            for name, sql in ours:
                connection.execute("UPDATE sqlite_schema SET sql = ? WHERE name = ?", (sql, name))

    return change


_LOOSE = (
    "CREATE TABLE events (sequence INTEGER PRIMARY KEY, answer, at, person, kind, body, digest)"
)


def _renamed(column: str, value: str, row: str) -> Callable[[Path], None]:
    """Let the list of tables say something else beside the words."""
    return _statements(
        "PRAGMA writable_schema = ON",
        f"UPDATE sqlite_schema SET {column} = {value} WHERE name = '{row}'",  # noqa: S608 - ours
    )


def _rebuilt(*settings: str) -> Callable[[Path], None]:
    return _statements(*settings, "VACUUM")


def _wal(folder: Path) -> None:
    """Leave a database in the other mode with what another program wrote there and did not end."""
    file = folder / schema.FILE
    with closing(sqlite3.connect(file, isolation_level=None)) as connection:
        connection.execute("PRAGMA journal_mode = WAL")
        connection.execute("PRAGMA wal_autocheckpoint = 0")
        connection.execute("UPDATE head SET name = 'from the side'")
        kept = {end: Path(f"{file}{end}").read_bytes() for end in ("", "-wal", "-shm")}
    for end, content in kept.items():
        Path(f"{file}{end}").write_bytes(content)


def _wal_header(folder: Path) -> None:
    _statements("PRAGMA journal_mode = WAL")(folder)
    for end in ("-wal", "-shm"):
        Path(f"{folder / schema.FILE}{end}").unlink(missing_ok=True)


def _beside(end: str, content: bytes) -> Callable[[Path], None]:
    def change(folder: Path) -> None:
        Path(f"{folder / schema.FILE}{end}").write_bytes(content)

    return change


def _beside_linked(end: str) -> Callable[[Path], None]:
    def change(folder: Path) -> None:
        Path(f"{folder / schema.FILE}{end}").unlink(missing_ok=True)
        Path(f"{folder / schema.FILE}{end}").symlink_to(victim(folder))

    return change


def victim(folder: Path) -> Path:
    """Give a file outside the data folder that somebody would miss."""
    file = folder.parent.parent.parent / "letter.txt"
    if not file.exists():
        file.write_bytes(b"\0a letter that somebody would miss")
    return file


_MAGIC = bytes.fromhex("d9d505f920a163d7")


def another_crash(folder: Path, *, super_journal: bytes = b"") -> None:
    """Put beside a build what a crash left of another database, as the database library writes it.

    `super_journal` names a file that is to go once all has been taken back.
    """
    size, nonce = PAGE, 7
    page = b"\xa5" * size
    check = (nonce + sum(page[at] for at in range(size - 200, 0, -200))) & 0xFFFFFFFF
    head = struct.pack(">8sIIIII", _MAGIC, 1, nonce, 4, 512, size).ljust(512, b"\0")
    content = head + struct.pack(">I", 2) + page + struct.pack(">I", check)
    if super_journal:
        content += struct.pack(">I", 0x40000000 // size + 1) + super_journal
        content += struct.pack(">II", len(super_journal), sum(super_journal)) + _MAGIC
    _beside("-journal", content)(folder)


def _names_a_file(folder: Path) -> None:
    another_crash(folder, super_journal=os.fsencode(victim(folder)))


def _instead(make: Callable[[Path], None]) -> Callable[[Path], None]:
    """Put something else where the database was."""

    def change(folder: Path) -> None:
        (folder / schema.FILE).unlink()
        make(folder / schema.FILE)

    return change


def _linked(folder: Path) -> None:
    file, elsewhere = folder / schema.FILE, victim(folder)
    elsewhere.write_bytes(file.read_bytes())
    file.unlink()
    file.symlink_to(elsewhere)


def _socket(file: Path) -> None:
    here = Path.cwd()
    os.chdir(file.parent)  # the name of a socket is short
    try:
        with socket.socket(socket.AF_UNIX) as made:
            made.bind(file.name)
    finally:
        os.chdir(here)


def _many_tables(folder: Path) -> None:
    with _raw(folder) as connection:
        connection.execute("BEGIN")
        connection.execute("PRAGMA writable_schema = ON")
        connection.executemany(
            "INSERT INTO sqlite_schema VALUES ('view', ?, ?, 0, ?)",
            ((f"v{n}", f"v{n}", f"CREATE VIEW v{n} AS SELECT 1") for n in range(250_000)),
        )
        connection.execute("COMMIT")


def _long_words(folder: Path) -> None:
    words = f"CREATE VIEW v AS SELECT {'1,' * 1_900}1 WHERE 1 /*{'x' * 15_000_000}*/"
    with _raw(folder) as connection:
        connection.execute("PRAGMA writable_schema = ON")
        connection.execute("INSERT INTO sqlite_schema VALUES ('view', 'v', 'v', 0, ?)", (words,))


def _lock(make: Callable[[Path], None]) -> Callable[[Path], None]:
    def change(folder: Path) -> None:
        (folder / "lock").unlink(missing_ok=True)
        make(folder / "lock")

    return change


def _attachments(make: Callable[[Path], None]) -> Callable[[Path], None]:
    def change(folder: Path) -> None:
        make(folder / schema.ATTACHMENTS)

    return change


def _pipe_in(place: Path) -> None:
    os.mkfifo(place / "a.jpg")
    (place / "b.jpg").symlink_to("/dev/zero")
    (place / "c").symlink_to("/")


_ADD = "ALTER TABLE events ADD COLUMN"
ODD: Mapping[str, tuple[Callable[[Path], None], str]] = {
    "a view for the records": (
        _statements(
            "ALTER TABLE events RENAME TO others", "CREATE VIEW events AS SELECT * FROM others"
        ),
        TABLES,
    ),
    "a trigger that does more": (
        _statements("CREATE TRIGGER more AFTER UPDATE ON head BEGIN DELETE FROM head; END"),
        TABLES,
    ),
    "a column that is worked out": (_statements(f"{_ADD} more INTEGER AS (answer * 2)"), TABLES),
    "records without a row's number": (
        _statements("CREATE TABLE others (a TEXT PRIMARY KEY) WITHOUT ROWID, STRICT"),
        TABLES,
    ),
    "one more index": (_statements("CREATE INDEX more ON events (kind)"), TABLES),
    "an index that is worked out": (
        _statements("CREATE INDEX more ON events (json_extract(body, '$.at'))"),
        DAMAGED,
    ),
    "a table to search in": (_statements("CREATE VIRTUAL TABLE more USING fts5(a)"), TABLES),
    "a table of boxes": (_statements("CREATE VIRTUAL TABLE more USING rtree(a, b, c)"), TABLES),
    "a table of no module": (
        _statements(
            "PRAGMA writable_schema = ON",
            "INSERT INTO sqlite_schema VALUES ('table', 'm', 'm', 0, "
            "'CREATE VIRTUAL TABLE m USING no_such_module(x)')",
        ),
        TABLES,
    ),
    "an order of letters unknown here": (
        _statements(
            "PRAGMA writable_schema = ON",
            "UPDATE sqlite_schema SET sql = replace(sql, 'kind TEXT', 'kind TEXT COLLATE owned') "
            "WHERE name = 'events'",
        ),
        TABLES,
    ),
    "a rule that is worked out": (
        _statements(f"{_ADD} more INTEGER CHECK (more < random())"),
        TABLES,
    ),
    "names in quotes": (
        _renamed("sql", "replace(sql, 'events', '\"events\"')", "events"),
        TABLES,
    ),
    "a table twice": (
        _statements(
            "PRAGMA writable_schema = ON",
            "INSERT INTO sqlite_schema SELECT * FROM sqlite_schema WHERE name = 'events'",
        ),
        DAMAGED,
    ),
    "words that are no statement": (_renamed("sql", "'DROP TABLE head'", "head"), DAMAGED),
    "words that fetch another file": (
        _renamed("sql", "'ATTACH ''/etc/passwd'' AS x'", "head"),
        DAMAGED,
    ),
    "records that lie in the list of tables": (_renamed("rootpage", "1", "events"), DAMAGED),
    "records that lie in the head": (_renamed("rootpage", "3", "events"), "record 1 is unreadable"),
    "a head that lies nowhere": (_renamed("rootpage", "999999", "head"), DAMAGED),
    "words of a view": (_renamed("type", "'view'", "events"), DAMAGED),
    "a name that is another's": (_renamed("name", "'head'", "events"), DAMAGED),
    "very long words": (_long_words, DAMAGED),
    "very many views": (_many_tables, TABLES),
    "a text for a number": (
        _as_if_ours("UPDATE events SET answer = 'many' WHERE sequence = 3", events=_LOOSE),
        "record 3 is unreadable",
    ),
    "a number for a text": (
        _as_if_ours("UPDATE events SET body = 9e999 WHERE sequence = 3", events=_LOOSE),
        "record 3 is unreadable",
    ),
    "nothing for a text": (
        _as_if_ours("UPDATE events SET kind = NULL WHERE sequence = 3", events=_LOOSE),
        "record 3 is unreadable",
    ),
    "bytes for a text": (
        _as_if_ours("UPDATE events SET body = x'ff00ff' WHERE sequence = 3", events=_LOOSE),
        "record 3 is unreadable",
    ),
    "bytes that say the same": (
        _as_if_ours("UPDATE events SET body = CAST(body AS BLOB)", events=_LOOSE),
        "record 1 is unreadable",
    ),
    "a record before the first": (
        _as_if_ours("UPDATE events SET sequence = -9223372036854775808 WHERE sequence = 1"),
        "is out of order",
    ),
    "a record at the end of all numbers": (
        _as_if_ours("UPDATE events SET sequence = 9223372036854775807 WHERE sequence = 3"),
        "record 3 is missing",
    ),
    "a head before the first record": (
        _as_if_ours("UPDATE head SET sequence = -1"),
        "the head does not tell of the last record",
    ),
    "a second head": (
        _as_if_ours(
            "INSERT INTO head SELECT 2, 'second', '', '', '', '', '', sequence, digest FROM head"
        ),
        "",
    ),
    "small pages": (_rebuilt("PRAGMA page_size = 512"), TABLES),
    "large pages": (_rebuilt("PRAGMA page_size = 65536"), TABLES),
    "a file that shrinks by itself": (_rebuilt("PRAGMA auto_vacuum = FULL"), ""),
    "a file that shrinks when told": (_rebuilt("PRAGMA auto_vacuum = INCREMENTAL"), ""),
    "a version below nothing": (_statements("PRAGMA user_version = -1"), TABLES),
    "the last version of all": (
        _statements("PRAGMA user_version = 2147483647"),
        "was written by a newer Snugset",
    ),
    "a program of no number": (_statements("PRAGMA application_id = -1"), "is not a Snugset jour"),
    "the other mode": (_wal, BESIDE),
    "the other mode, alone": (_wal_header, "is not a Snugset journal"),
    "another's log": (_beside("-wal", b"x" * 4096), BESIDE),
    "another's map of a log": (_beside("-shm", b"\0" * 32768), BESIDE),
    "a log elsewhere": (_beside_linked("-wal"), BESIDE),
    "a crash of another database": (another_crash, "does not belong"),
    "a crash that names a file": (_names_a_file, "names another file"),
    "a crash elsewhere": (_beside_linked("-journal"), "is no plain file"),
    "a side file that says nothing": (_beside("-journal", b"hello" * 200), ""),
    "a link to a journal": (_linked, "is a link"),
    "a link that leads nowhere": (
        _instead(lambda file: file.symlink_to("nowhere")),
        "there is no journal.sqlite",
    ),
    "a device": (
        _instead(lambda file: file.symlink_to("/dev/zero")),
        "there is no journal.sqlite",
    ),
    "a pipe": (_instead(os.mkfifo), "there is no journal.sqlite"),
    "a folder": (_instead(Path.mkdir), "there is no journal.sqlite"),
    "a socket": (_instead(_socket), "there is no journal.sqlite"),
    "a lock that is a pipe": (_lock(os.mkfifo), ""),
    "a lock that is a folder": (_lock(Path.mkdir), ""),
    "a lock elsewhere": (_lock(lambda file: file.symlink_to("/etc/passwd")), ""),
    "photographs without an end": (_attachments(_pipe_in), ""),
}
"""By what stands there: the change, and what is told."""
