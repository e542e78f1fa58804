"""Tests of the full screen.

They wait for pictures to be painted; the library paints more often here than on a terminal, so that
they wait less. Programs on a terminal of their own paint as they always do.
"""

import os

os.environ.setdefault("TEXTUAL_FPS", "500")
