"""A lock on a file, on every system: the one place that imports what only one of them has.

Windows has msvcrt, the others fcntl; Python in a browser has an fcntl without flock, or none, and
there one kernel has a file for itself.
"""

import os
import time
from contextlib import contextmanager

try:
    import fcntl
except ImportError:
    fcntl = None
try:
    import msvcrt
except ImportError:
    msvcrt = None

LOCK_SECONDS = 5.0


@contextmanager
def locked(path):
    """Hold the lock file for a moment; go on without it where locks do not work or stay taken (the
    format of a sheet bears it).
    """
    handle = None
    try:
        handle = os.open(path, os.O_RDWR | os.O_CREAT, 0o644)
        until = time.monotonic() + LOCK_SECONDS
        while not try_lock(handle) and time.monotonic() < until:
            time.sleep(0.01)
    except OSError:
        pass
    try:
        yield
    finally:
        if handle is not None:
            os.close(handle)  # closing gives the lock back, also when the process dies


def try_lock(handle):
    """True if the lock was taken, or if the system has none; False if another has it. Raises
    OSError.
    """
    try:
        if msvcrt is not None:
            msvcrt.locking(handle, msvcrt.LK_NBLCK, 1)
        elif hasattr(fcntl, "flock"):
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except (PermissionError, BlockingIOError):  # how Windows and how the others say it is taken
        return False
    return True
