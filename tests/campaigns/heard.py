"""What people said last, and with which update, since not every update arrives."""

from collections import defaultdict

from demo_script.stand_in import StandIn


class Heard(dict[tuple[int, str], object]):
    """What was said last to each question, and with which update; what never arrives goes again."""

    def __init__(self, api: StandIn) -> None:
        super().__init__()
        self._updates = api.world.updates
        self._by_update: dict[tuple[int, str], list[tuple[int, object]]] = defaultdict(list)

    def __setitem__(self, key: tuple[int, str], value: object) -> None:
        super().__setitem__(key, value)
        self._by_update[key].append((self._updates._next_id - 1, value))

    def without(self, expired: set[object]) -> None:
        """The chat service has let go of these before anybody could fetch them."""
        for key, said in self._by_update.items():
            left = [value for update, value in said if update not in expired]
            if left:
                super().__setitem__(key, left[-1])
            else:
                self.pop(key, None)
