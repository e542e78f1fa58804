"""Backups of strangers: bytes changed, lists and manifests that lie, names that lead elsewhere."""

import io
import json
import random
import shutil
import time
import zipfile
from collections.abc import Iterable
from functools import cache
from hashlib import sha256
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from snugset.files.characters import forbidden
from snugset.journal.carry import backup, restore
from snugset.journal.errors import JournalError
from snugset.journal.manifest import MANIFEST
from snugset.journal.reading import verify
from snugset.journal.shelf import Shelf
from snugset.play import play
from snugset.shipped import demo

from .checked import Tally

_LONGEST = 400
"""Characters of a sentence; a terminal of 80 by 24 shows it with what stood before."""
STRANGE: tuple[Any, ...] = (
    *(None, True, -1, 0, 1e308, 10**30, "", [], {}, [[[[]]]], "9" * 5000, "a" * 300, "\u202e"),
    *("\x1b[0m", "../x", "/etc/x", "journal.sqlite", {"bytes": 1}, "\ud800"),
)
NAMES = (
    *("../x", "/etc/x", "attachments/../../x", "attachments/a\0b", "C:\\x", "attachments/.x"),
    *("attachments/" + "a" * 250, "attachments/", "attachments", "journal.sqlite/x", "\u202e"),
    *("attachments/" + "d/" * 100 + "x", "attachments/" + "n" * 60_000, "JOURNAL.SQLITE"),
)


@cache
def kept() -> bytes:
    """Give a backup of the demo, played to its end."""
    with TemporaryDirectory() as name:
        folder = Path(name)
        build = play(demo(), Shelf(folder), at_once=True).folder
        backup(build, folder / "kept")
        return (folder / "kept").read_bytes()


@cache
def _parts() -> dict[str, bytes]:
    with zipfile.ZipFile(io.BytesIO(kept())) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def _packed(parts: Iterable[tuple[str, bytes]]) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        for name, content in parts:
            info = zipfile.ZipInfo(name)
            info.create_system, info.external_attr = 3, 0o600 << 16
            archive.writestr(info, content)
    return out.getvalue()


def _bytes(rng: random.Random) -> bytes:
    """Change bytes; half of the places are in the lists at the end or in the first header."""
    content = bytearray(kept())
    for _ in range(rng.choice([1, 1, 2, 5])):
        last = len(content) - 1
        at = rng.choice([rng.randint(0, last), last - rng.randint(0, min(400, last)), 20])
        match rng.randrange(4):
            case 0:
                content[at] = rng.randrange(256)
            case 1:
                del content[at : at + rng.choice([1, 4, 100, 100_000])]
            case 2:
                content[at:at] = rng.randbytes(rng.choice([1, 4, 100]))
            case _:
                content[at : at + 4] = b"\xff" * 4
        content = content or bytearray(b"x")
    return bytes(content)


def _spoiled(rng: random.Random, inside: dict[str, Any]) -> None:
    name = rng.choice(list(inside))
    match rng.randrange(4):
        case 0:
            del inside[name]
        case 1:
            inside[str(rng.choice(STRANGE))] = inside[name]
        case 2 if isinstance(inside[name], dict) and inside[name]:
            _spoiled(rng, inside[name])
        case _:
            inside[name] = rng.choice(STRANGE)


def _manifest(rng: random.Random) -> bytes:
    """Make the manifest say something else, or nothing that can be read."""
    told = json.loads(_parts()[MANIFEST])
    for _ in range(rng.choice([1, 1, 2])):
        if told:
            _spoiled(rng, told)
    text = json.dumps(told)
    match rng.randrange(16):
        case 0:
            text = "[" * rng.choice([100, 100_000, 2_000_000])
        case 1:
            text = '{"a":' * 100_000
        case 2:
            text = text[: rng.randrange(len(text))]
        case 3:
            text = text.replace("1", "9" * rng.choice([5, 400, 5000]), 1)
    encoded = text.encode("utf-16" if rng.random() < 0.05 else "utf-8", "surrogatepass")
    return _packed({**_parts(), MANIFEST: encoded}.items())


def _stowaway(rng: random.Random) -> bytes:
    """Put another file in, which the manifest holds as it should."""
    name, content = rng.choice(NAMES), b"\xff\xd8\xffabc"
    told = json.loads(_parts()[MANIFEST])
    told["files"][name] = {"bytes": len(content), "sha256": sha256(content).hexdigest()}
    parts = [*{**_parts(), MANIFEST: json.dumps(told).encode()}.items()]
    parts.insert(rng.randint(0, 1), (name, content))
    return _packed(parts)


def restore_mutants(seeds: Iterable[int], folder: Path) -> Tally:
    """Spoil a backup a seed and restore it; any exception but a short sentence is a fault.

    What is restored is whole, under a name of its own; nothing else stands anywhere.
    """
    count = taken = 0
    slowest = 0.0
    for seed in seeds:
        rng = random.Random(seed)
        file = folder / "in.snugset"
        file.write_bytes(rng.choice([_bytes, _manifest, _stowaway])(rng))
        data = folder / "data"
        started = time.process_time()
        try:
            found = [restore(file, Shelf(data))]
            assert verify(data / "builds" / found[0]).whole
        except JournalError as error:
            found = []
            assert len(str(error)) <= _LONGEST, f"seed {seed}: {len(str(error))} characters"
            assert not [*forbidden(str(error))], f"seed {seed}"
        except Exception as error:
            error.add_note(f"seed {seed}")
            raise
        slowest = max(slowest, time.process_time() - started)
        assert {path.name for path in folder.iterdir()} == {"in.snugset", "data"}, f"seed {seed}"
        stands = [path.name for path in (data / "builds").iterdir()]
        assert stands == found, f"seed {seed}: {stands}"
        shutil.rmtree(data)
        count += 1
        taken += len(found)
    return Tally(count, taken, slowest * 1000)
