"""What every test starts from: no screen, a fixed clock for files, and examples that repeat."""

import os

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")  # before anything imports Qt
os.environ.setdefault("SOURCE_DATE_EPOCH", "946684800")  # 2000-01-01, so that equal designs give equal files

from hypothesis import settings

settings.register_profile("house", deadline=None, print_blob=False)
settings.register_profile("ci", deadline=None, print_blob=False, derandomize=True)
settings.load_profile("ci" if "CI" in os.environ else "house")
