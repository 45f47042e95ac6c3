"""Polars for tests, kept from one test run to the next; of two test processes one works out what is missing."""

from __future__ import annotations

import os
from collections.abc import Mapping, Sequence
from pathlib import Path

import pytest

from sparwright.air.polars import Asked, Table, Told
from sparwright.cli import store
from sparwright.cli.polars import Kept

FOLDER = os.environ.get(store.FOLDER) or str(Path(__file__).parents[1] / ".kept")
_KEPT = Kept()


def shelf(asked: Sequence[Asked], told: Told | None = None) -> Mapping[Asked, Table]:
    """The polars asked for, whatever a test has made of the store."""
    with pytest.MonkeyPatch.context() as here:
        here.setenv(store.FOLDER, FOLDER)
        return _KEPT(asked, told)
