"""The devices that were let in, and the places for their tabs."""

import pytest

from snugset.serving.devices import Devices, FullError, Places


def test_only_a_token_that_was_given_out_is_known() -> None:
    devices = Devices()
    one, two = devices.admit(), devices.admit()
    assert one != two
    assert len(one) >= 43, "256 bits"
    assert devices.knows(one)
    assert devices.knows(two)
    assert not devices.knows("")
    assert not devices.knows(one[:-1])
    assert one not in repr(vars(devices))


def test_the_oldest_is_forgotten_when_there_are_very_many() -> None:
    devices = Devices()
    tokens = [devices.admit() for _ in range(300)]
    assert not devices.knows(tokens[0])
    assert devices.knows(tokens[-1])
    assert len(vars(devices)["_known"]) < 300


async def test_there_are_so_many_places_and_one_that_is_left_is_free() -> None:
    places = Places(2)
    async with places.place("a"), places.place("b"):
        assert places.taken == 2
        assert not places.room("c")
        with pytest.raises(FullError):
            async with places.place("c", patience=0.2):
                pytest.fail("a third place of two")
    assert places.taken == 0
    async with places.place("c", patience=0.0):
        assert places.taken == 1


async def test_a_page_that_is_loaded_again_is_not_kept_out_by_itself() -> None:
    places = Places(1)
    async with places.place("a"):
        assert places.room("a")
        assert not places.room("b")
