"""Whether a folder lies on another machine, where nobody promises that a saved byte stays saved."""

import re
from pathlib import Path

_NETWORK = frozenset(
    {
        *("nfs", "nfs4", "cifs", "smb3", "smbfs", "ncpfs", "afs", "9p", "drvfs", "ceph", "lustre"),
        *("glusterfs", "beegfs", "orangefs", "ocfs2", "gfs2", "davfs", "sshfs", "rclone"),
        *("davfs2", "s3fs", "vboxsf"),
    }
)

_OCTAL = re.compile(r"\\([0-7]{3})")


def warn_if_network(path: Path, mounts: Path = Path("/proc/mounts")) -> str | None:
    """One sentence of warning if `path` lies on a network or shared file system, else None.

    `mounts` is the kernel's table; where a system has none, nothing is known and nothing said.
    """
    try:
        table = mounts.read_text("utf-8", "surrogateescape")
    except OSError:
        return None
    here = path.resolve()
    found = ""
    depth = 0
    for line in table.splitlines():
        _, place, kind, *_ = [*line.split(" "), "", "", ""]
        point = Path(_OCTAL.sub(lambda octal: chr(int(octal[1], 8)), place))
        # Of two mounts on one place, the later one is on top.
        if here.is_relative_to(point) and len(point.parts) >= depth:
            found, depth = kind, len(point.parts)
    if found.removeprefix("fuse.") not in _NETWORK:
        return None
    return (
        f"{path} is on a network file system ({found}), which may lose what was saved and may let "
        "two programs in at once; keep the builds on this machine's own disk"
    )
