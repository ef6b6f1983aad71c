"""People on a line: marks that would hide each other are piled up."""


def heap(places: list[float], mark: float) -> list[int]:
    """How high each mark of this width lies so that none covers another; 0 is on the line.

    Marks are laid from left to right, each as low as it can lie.
    """
    ends: list[float] = []  # for each level, where its last mark ends
    levels = [0] * len(places)
    for at in sorted(range(len(places)), key=lambda each: places[each]):
        level = next((low for low, end in enumerate(ends) if end <= places[at]), len(ends))
        if level == len(ends):
            ends.append(0.0)
        ends[level] = places[at] + mark
        levels[at] = level
    return levels
