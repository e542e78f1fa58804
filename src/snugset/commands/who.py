"""Who works: the option, else the environment, else the login name."""

import getpass
from collections.abc import Mapping

from snugset.clock import now, utc
from snugset.commands.declare import Given, UsageError
from snugset.journal.owner import Owner

_LONGEST = 120


def owner(given: Given, environ: Mapping[str, str]) -> Owner:
    """Say who works, from now on."""
    return Owner.here(person=_person(given, environ), since=utc(now()))


def _person(given: Given, environ: Mapping[str, str]) -> str:
    person = (given.one("--person") or environ.get("SNUGSET_PERSON", "")).strip() or _login()
    if len(person) > _LONGEST or not person.isprintable():
        raise UsageError(
            f"a person's name has 1 to {_LONGEST} letters that can be seen; give it: --person NAME"
        )
    return person


def _login() -> str:
    try:
        return getpass.getuser()
    except (KeyError, ImportError, OSError):  # an account without a name, as in some containers
        return "somebody"
