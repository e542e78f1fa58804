"""What is typed after the word photo: a path and a caption, read from the disk."""

import io
import shlex
from pathlib import Path

from snugset.guide.answer import Answer, Photo
from snugset.journal.attachments import PhotoError, Picture, read_picture
from snugset.paths import typed_path
from snugset.values import replace


def pictured(answer: Answer, base: Path) -> tuple[Picture, Answer]:
    """Read the file that an answer names, and put what it is into the answer; PhotoError.

    A relative path is taken from `base`.
    """
    typed, caption = path_and_caption(answer.text)
    picture = read_picture(base / typed_path(typed))
    photo = Photo(
        name=picture.name,
        digest=picture.digest,
        media=picture.media,
        size=len(picture.content),
        caption=caption,
    )
    return picture, replace(answer, photo=photo)


def path_and_caption(text: str) -> tuple[str, str]:
    """Split a path, in quotes where it has spaces, from the caption after it.

    A path as a terminal writes it when a file is dropped on it reads so too. PhotoError where a
    quote has no end.
    """
    stream = io.StringIO(text)
    words = shlex.shlex(stream, posix=True)
    words.whitespace_split = True
    words.commenters = ""
    try:
        path = words.get_token() or ""
    except ValueError as fault:
        raise PhotoError("photo-file", "A quote in that path has no end; close it.") from fault
    return path, " ".join(stream.read().split())
