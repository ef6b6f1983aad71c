"""The files that went up, and the way down again."""

import struct
from pathlib import PurePosixPath

from demo_script.stand_in.limits import Limits
from demo_script.stand_in.params import Params, Upload
from demo_script.stand_in.refusals import bad_request
from demo_script.stand_in.values import Attachment


class Files:
    """Every file by id and by path; the same id may be sent again without uploading."""

    def __init__(self, limits: Limits) -> None:
        self._limits = limits
        self._by_id: dict[str, Attachment] = {}
        self._by_path: dict[str, Attachment] = {}

    def store(self, kind: str, upload: Upload) -> Attachment:
        """Keep a file and give it an id and a path."""
        if not upload.content:
            raise bad_request("file must be non-empty")
        width = height = 0
        if kind == "photo":
            if len(upload.content) > self._limits.photo_bytes:
                raise bad_request("file is too big")
            width, height = picture_size(upload.content)
        number = len(self._by_id)
        suffix = PurePosixPath(upload.name).suffix
        file = Attachment(
            kind=kind,
            file_id=f"StandIn{kind}{number:06d}",
            path=f"{kind}s/file_{number}{suffix}",
            name=upload.name,
            mime=upload.mime,
            content=upload.content,
            width=width,
            height=height,
        )
        self._by_id[file.file_id] = self._by_path[file.path] = file
        return file

    def from_request(self, params: Params, kind: str, reference: str) -> Attachment:
        """The file a request means: one that came with it, or one that is known by its id."""
        upload = params.upload_behind(reference)
        if upload is not None:
            return self.store(kind, upload)
        if reference.startswith(("http://", "https://")):
            raise bad_request("failed to get HTTP URL content")  # nothing here goes out
        known = self._by_id.get(reference)
        if known is None or known.kind != kind:
            raise bad_request("wrong file identifier/HTTP URL specified")
        return known

    def by_id(self, file_id: str) -> Attachment:
        """A file that may be downloaded; bigger ones can be seen but not fetched."""
        file = self._by_id.get(file_id)
        if file is None:
            raise bad_request("wrong file_id or the file is temporarily unavailable")
        if len(file.content) > self._limits.download_bytes:
            raise bad_request("file is too big")
        return file

    def by_path(self, path: str) -> Attachment | None:
        """The file behind a download link; None if there is none."""
        return self._by_path.get(path)


def picture_size(content: bytes) -> tuple[int, int]:
    """Width and height in pixels of a PNG or JPEG; other bytes are refused as no picture."""
    if content.startswith(b"\x89PNG\r\n\x1a\n") and len(content) >= 24:
        width, height = struct.unpack(">II", content[16:24])
        return int(width), int(height)
    at = 2 if content.startswith(b"\xff\xd8") else len(content)
    while at + 9 <= len(content) and content[at] == 0xFF:
        marker, length = content[at + 1], int.from_bytes(content[at + 2 : at + 4])
        if 0xC0 <= marker <= 0xCF and marker not in (0xC4, 0xC8, 0xCC):  # a frame header
            height, width = struct.unpack(">HH", content[at + 5 : at + 9])
            return int(width), int(height)
        at += 2 + length
    raise bad_request("IMAGE_PROCESS_FAILED")
