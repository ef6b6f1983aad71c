"""Asking for the way to a file."""

from demo_script.stand_in import shapes
from demo_script.stand_in.params import Params
from demo_script.stand_in.values import Json
from demo_script.stand_in.world import Method, World


def get_file(world: World, params: Params) -> Json:
    """The path to download from; files over 20 MB have none."""
    file = world.files.by_id(params.text("file_id"))
    return shapes.file(file) | {"file_path": file.path}


METHODS: dict[str, Method] = {"getFile": get_file}
