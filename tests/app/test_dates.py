"""The date on paper. Source: reproducible-builds.org, SOURCE_DATE_EPOCH specification 1.1."""

import datetime

import pytest

from app.ui.dates import today
from geometry.errors import OwnerError


@pytest.mark.parametrize(
    ("seconds", "date"),
    [("0", (1970, 1, 1)), ("946684799", (1999, 12, 31)), ("946684800", (2000, 1, 1)), ("1700000000", (2023, 11, 14))],
)
def test_whole_seconds_since_1970_in_utc(seconds, date, monkeypatch):
    monkeypatch.setenv("SOURCE_DATE_EPOCH", seconds)
    monkeypatch.setenv("TZ", "Pacific/Kiritimati")
    assert today() == datetime.date(*date)


def test_without_it_the_day_is_today(monkeypatch):
    monkeypatch.delenv("SOURCE_DATE_EPOCH")
    before = datetime.date.today()
    assert before <= today() <= datetime.date.today()


@pytest.mark.parametrize("seconds", ["", "tomorrow", "1e9", "9" * 40])
def test_what_is_no_such_number_gets_one_sentence(seconds, monkeypatch):
    monkeypatch.setenv("SOURCE_DATE_EPOCH", seconds)
    with pytest.raises(OwnerError, match="seconds since 1970"):
        today()
