"""What is remembered from one start to the next."""

import pytest

from app.settings import MOST_RECENT, Settings, load, save


def test_nothing_is_remembered_at_first(tmp_path):
    assert load(tmp_path / "none yet") == Settings()


def test_saved_is_loaded(tmp_path):
    settings = Settings(paper="a3", margin=6.35).used(tmp_path / "boat.boltwell")
    save(settings, tmp_path / "new folder")
    assert load(tmp_path / "new folder") == settings


@pytest.mark.parametrize("raw", [b"", b"{", b"[]", b'{"margin": "wide"}', b"\xff"])
def test_what_cannot_be_read_is_forgotten(raw, tmp_path):
    (tmp_path / "settings.json").write_bytes(raw)
    assert load(tmp_path) == Settings()


def test_what_a_newer_program_added_does_not_matter(tmp_path):
    (tmp_path / "settings.json").write_bytes(b'{"margin": 5.0, "later": true}')
    assert load(tmp_path) == Settings(margin=5.0)


def test_recent_designs_newest_first_each_once_and_only_those_that_are_there(tmp_path):
    paths = [tmp_path / f"{number}.boltwell" for number in range(MOST_RECENT + 2)]
    settings = Settings()
    for path in (*paths, paths[4]):
        path.touch()
        settings = settings.used(path)
    expected = list(dict.fromkeys(map(str, (paths[4], *reversed(paths)))))[:MOST_RECENT]
    assert list(settings.recent) == expected
    paths[4].unlink()
    assert [str(path) for path in settings.still_there()] == expected[1:]
