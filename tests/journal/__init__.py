"""The journal: kept, proven, locked, carried."""
