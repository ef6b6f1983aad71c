"""The parameters of one request, whichever of the accepted ways they came in."""

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from demo_script.stand_in.refusals import bad_request

ATTACH = "attach://"  # names the part of the same multipart body that holds the file


@dataclass(frozen=True, slots=True, kw_only=True)
class Upload:
    """A file that came with the request."""

    name: str
    mime: str
    content: bytes = field(repr=False)


@dataclass(frozen=True, slots=True)
class Params:
    """Typed looks at loosely typed input: forms carry strings, JSON bodies carry values."""

    values: Mapping[str, object]
    uploads: Mapping[str, Upload] = field(default_factory=dict)

    def given(self, name: str) -> bool:
        """Whether this parameter came, and not empty."""
        return self.values.get(name) not in (None, "")

    def text(self, name: str) -> str:
        """The parameter as text; empty if it didn't come."""
        value = self.values.get(name)
        return "" if value is None else str(value)

    def number(self, name: str, default: int = 0) -> int:
        """The parameter as a whole number; the default if it didn't come or isn't one."""
        try:
            return int(self.text(name))
        except ValueError:
            return default

    def flag(self, name: str) -> bool:
        """Whether the parameter says yes, in any of the spellings that are accepted."""
        return self.text(name).lower() in ("true", "yes", "1")

    def parsed(self, name: str) -> Any:
        """An object or list: JSON in a form, itself in a JSON body; None if it didn't come."""
        value = self.values.get(name)
        if value is None or value == "":
            return None
        if not isinstance(value, str):
            return value
        try:
            return json.loads(value)
        except ValueError:
            raise bad_request(f"can't parse {name.replace('_', ' ')} JSON object") from None

    def upload(self, name: str) -> Upload | None:
        """The file behind a parameter; None if the parameter is an id or a link."""
        return self.upload_behind(self.text(name))

    def upload_behind(self, reference: str) -> Upload | None:
        """The file behind `attach://name`; None for anything else."""
        if not reference.startswith(ATTACH):
            return None
        return self.uploads.get(reference.removeprefix(ATTACH))
