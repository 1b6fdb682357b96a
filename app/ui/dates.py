"""The date to print on the sheets."""

from __future__ import annotations

import datetime
import os

from geometry.errors import OwnerError


def today() -> datetime.date:
    """Return today, or the date in `SOURCE_DATE_EPOCH`, so that the same design gives the same files.

    Source: reproducible-builds.org, SOURCE_DATE_EPOCH specification 1.1: whole seconds since 1970, UTC.

    Raises:
        OwnerError: the variable holds no such number.
    """
    seconds = os.environ.get("SOURCE_DATE_EPOCH")
    if seconds is None:
        return datetime.date.today()
    try:
        return datetime.datetime.fromtimestamp(int(seconds), datetime.UTC).date()
    except (ValueError, OverflowError, OSError) as error:
        raise OwnerError(
            f"SOURCE_DATE_EPOCH is {seconds[:40]!r}; whole seconds since 1970 were expected. Correct it or unset it."
        ) from error
