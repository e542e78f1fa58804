"""The step kinds, a closed set; a new kind is a new module here and a line below."""

from collections.abc import Mapping

from snugset.files.steps import KindBlock
from snugset.guide.kinds import (
    back,
    choose,
    clay,
    crank,
    do,
    each,
    hold,
    judge,
    lash,
    nut,
    preload,
    read,
    rounds,
    second_look,
    spec,
    stage_checks,
    stage_leaves,
    stages,
    turn,
)
from snugset.guide.kinds import torque as torque_kinds
from snugset.guide.kinds.kind import Kind

KINDS: Mapping[str, Kind] = {
    kind.name: kind
    for kind in (
        spec.KIND,
        back.KIND,
        second_look.KIND,
        do.KIND,
        read.KIND,
        clay.KIND,
        preload.KIND,
        torque_kinds.TORQUE,
        torque_kinds.TIGHTEN,
        turn.KIND,
        turn.POINT,
        hold.KIND,
        judge.KIND,
        each.KIND,
        crank.KIND,
        crank.PLAN,
        rounds.KIND,
        choose.KIND,
        lash.KIND,
        nut.KIND,
        stages.KIND,
        stages.LOOSEN,
        stages.RENEW_KIND,
        stages.GASKET_KIND,
        stages.MARKS_KIND,
        stage_leaves.TORQUE_TO_KIND,
        stage_leaves.ANGLE_KIND,
        stage_leaves.LOOSEN_KIND,
        stage_checks.VERIFY_KIND,
        stage_checks.ACCEPT_KIND,
    )
}
BLOCKS: Mapping[str, KindBlock] = {
    name: kind.block for name, kind in KINDS.items() if kind.block is not None
}
"""What a procedure file may say."""
