"""manifest.json: every file of a plan set, its sha256 and what it shows."""

from __future__ import annotations

import json
from collections.abc import Mapping
from hashlib import sha256

FORM = 1  # of the manifest; a change of meaning gets the next number


def manifest(
    files: Mapping[str, bytes], shows: Mapping[str, str], *, family: str, model: str, program: str, file_sha256: str
) -> bytes:
    """The manifest of `files` (name to content), each with what it `shows`; sorted by name.

    Raises KeyError for a file that nobody has described.
    """
    listed = [
        {"file": name, "sha256": sha256(files[name]).hexdigest(), "bytes": len(files[name]), "shows": shows[name]}
        for name in sorted(files)
    ]
    record = {
        "manifest": FORM, "family": family, "model": model, "program": program, "file_sha256": file_sha256,
        "files": listed,
    }  # fmt: skip
    return (json.dumps(record, indent=2, ensure_ascii=False) + "\n").encode("utf-8")
