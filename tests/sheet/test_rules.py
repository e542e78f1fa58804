"""Every rule of the guide can be told in words."""

import re
from pathlib import Path

from snugset import guide
from snugset.sheet.rules import RULES
from snugset.trade.verdict import Verdict

RULE = re.compile(r"\.rule\(\s*\"([a-z-]+)\"")


def test_every_code_that_the_guide_rules_by_has_words() -> None:
    where = Path(guide.__path__[0])
    sources = [path.read_text(encoding="utf-8") for path in where.rglob("*.py")]
    codes = {code for source in sources for code in RULE.findall(source)}
    assert len(codes) > 10
    assert codes - RULES.keys() == set()
    not_in = {str(verdict) for verdict in Verdict} - {"in", "inside", "no-limit", "outside"}
    assert not_in <= RULES.keys()
