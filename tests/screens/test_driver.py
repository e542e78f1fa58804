"""The terminal's driver: a write never waits for a thread that has ended with the terminal."""

from queue import Queue

from snugset.screens.terminal import Terminal


class Writing:
    """A writing thread that ends by itself after some looks at it, and writes nothing."""

    def __init__(self, looks: int, *, room: int) -> None:
        self._queue: Queue[str | None] = Queue(1)
        if not room:
            self._queue.put("waiting to be written")
        self._looks = looks
        self.joined = False

    def is_alive(self) -> bool:
        """Tell whether it has not ended yet."""
        self._looks -= 1
        return self._looks >= 0

    def join(self) -> None:
        """Note that its end was waited for."""
        self.joined = True


def driver(thread: Writing | None) -> Terminal:
    """Give a driver with that thread, and without a terminal."""
    made = Terminal.__new__(Terminal)
    made._writer_thread = thread  # type: ignore[assignment]
    return made


def test_what_is_written_goes_to_the_thread() -> None:
    thread = Writing(3, room=1)
    driver(thread).write("picture")
    assert thread._queue.get_nowait() == "picture"


def test_a_thread_that_has_ended_is_not_waited_for() -> None:
    thread = Writing(0, room=0)
    made = driver(thread)
    made.write("picture")
    made.close()
    assert thread.joined


def test_a_thread_that_ends_while_its_queue_is_full_is_not_waited_for() -> None:
    made = driver(Writing(2, room=0))
    made.write("picture")


def test_without_a_thread_nothing_is_written() -> None:
    made = driver(None)
    made.write("picture")
    made.close()
