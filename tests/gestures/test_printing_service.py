"""Printing on a real queue of the system's printing service: what arrives is 1:1, one-sided, on the planned paper.

The tests run a separate service in a temporary folder. Its queue writes what arrives into a file. The service's usual
filters are in between. Where there is no such service, the tests are left out.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

from tests.readers import read_with_pdfium

if TYPE_CHECKING:
    from collections.abc import Iterator

ROOT = Path(__file__).resolve().parents[2]
NEAR = 0.02  # mm
PATIENCE = 60.0  # s: a busy machine is no fault of the program
PAPERS = {"Letter": (612, 792), "A3": (842, 1191)}  # points
OWN_SIZES = """\
*HWMargins: 0 0 0 0
*ParamCustomPageSize Width: 1 points 72 3000
*ParamCustomPageSize Height: 2 points 72 6000
*ParamCustomPageSize WidthOffset: 3 points 0 0
*ParamCustomPageSize HeightOffset: 4 points 0 0
*ParamCustomPageSize Orientation: 5 int 0 0
*CustomPageSize True: "pop pop pop pop pop"
"""
DRIVER = """\
*PPD-Adobe: "4.3"
*FormatVersion: "4.3"
*FileVersion: "1.0"
*LanguageVersion: English
*LanguageEncoding: ISOLatin1
*PCFileName: "BOAT.PPD"
*Manufacturer: "None"
*Product: "(None)"
*ModelName: "None"
*ShortNickName: "None"
*NickName: "None"
*PSVersion: "(3010.000) 0"
*LanguageLevel: "3"
*ColorDevice: False
*DefaultColorSpace: Gray
*cupsVersion: 1.0
*cupsFilter: "application/vnd.cups-pdf 0 -"
*OpenUI *PageSize: PickOne
*DefaultPageSize: Letter
{sizes}*CloseUI: *PageSize
*OpenUI *PageRegion: PickOne
*DefaultPageRegion: Letter
{regions}*CloseUI: *PageRegion
*DefaultImageableArea: Letter
{areas}*DefaultPaperDimension: Letter
{dimensions}{own}"""
FILES = """\
ServerRoot {0}/root
RequestRoot {0}/spool
TempDir {0}/spool/tmp
CacheDir {0}/cache
StateDir {0}/state
AccessLog {0}/log/access
ErrorLog {0}/log/error
PageLog {0}/log/page
FileDevice Yes
"""
RULES = """\
Listen {0}/socket
DirtyCleanInterval 0
LogLevel info
DefaultAuthType None
WebInterface No
Browsing No
<Location />
Allow all
</Location>
<Policy default>
<Limit All>
Order allow,deny
Allow all
</Limit>
</Policy>
"""


def tool(name: str) -> str | None:
    """Return where a program of the printing service is."""
    return shutil.which(name, path=os.pathsep.join((os.environ.get("PATH", ""), "/usr/sbin", "/sbin")))


needs_service = pytest.mark.skipif(
    not (tool("cupsd") and tool("lpadmin") and Path("/usr/lib/cups/filter/pdftopdf").exists()
         and hasattr(os, "geteuid") and os.geteuid() == 0),
    reason="a separate queue needs the system's printing service with its filters, and the right to run it",
)  # fmt: skip
pytestmark = needs_service


class Queue:
    """A queue whose pages arrive in a file.

    Attributes:
        env: the environment of a program that prints there. arrived: the file. spool: what the service knows of its jobs.
    """

    def __init__(self, folder: Path) -> None:
        self.arrived, self.spool, self._folder = folder / "arrived.pdf", folder / "spool", folder
        self.env = {**os.environ, "CUPS_SERVER": str(folder / "socket"), "QT_QPA_PLATFORM": "offscreen"}

    def runs(self, *words: str) -> bool:
        """Run a program of the service; return whether it went well."""
        program = tool(words[0])
        assert program is not None
        done = subprocess.run([program, *words[1:]], env=self.env, capture_output=True, check=False, timeout=PATIENCE)
        return done.returncode == 0

    def takes(self, papers: tuple[str, ...], *, own: bool) -> bool:
        """Make it the usual printer, with some papers; return whether the service did so."""
        file = self._folder / "driver.ppd"
        file.write_text(driver(papers, own=own))
        made = self.runs("lpadmin", "-p", "boat", "-E", "-v", f"file:{self.arrived}", "-P", str(file))
        return made and self.runs("lpadmin", "-d", "boat")

    def print(self, paper: str) -> subprocess.CompletedProcess[str]:
        """Print the template there as the window does."""
        words = [sys.executable, "-m", "tests.gestures.queued", paper]
        return subprocess.run(words, cwd=ROOT, env=self.env, capture_output=True, text=True, check=False, timeout=PATIENCE)

    def prints(self, paper: str) -> list[dict[str, Any]]:
        """Print the template there; return the pages as they were planned, once all has arrived."""
        done = self.print(paper)
        assert done.returncode == 0, done.stderr
        end = time.monotonic() + PATIENCE
        while not self.is_done():
            assert time.monotonic() < end, (self._folder / "log/error").read_text()[-2000:]
            time.sleep(0.05)
        planned: list[dict[str, Any]] = json.loads(done.stdout.splitlines()[-1])
        return planned

    def job(self) -> bytes:
        """Return what the service wrote down of its only job; it writes that a moment after the job."""
        end = time.monotonic() + PATIENCE
        while not (files := list(self.spool.glob("c*"))):
            assert time.monotonic() < end
            time.sleep(0.05)
        return files[0].read_bytes()

    def is_done(self) -> bool:
        """Return whether the service calls the job completed, and its pages are in the file."""
        log = (self._folder / "log/error").read_text()
        assert "Filter failed" not in log, log[-2000:]
        return "Job completed." in log and self.arrived.exists()


def driver(papers: tuple[str, ...], *, own: bool) -> str:
    """Return the driver of a printer that has some papers; ``own``: it takes other sizes too, as a roll's printer does."""
    sizes = {paper: PAPERS[paper] for paper in papers}
    return DRIVER.format(
        sizes="".join(f'*PageSize {paper}: "<<>>setpagedevice"\n' for paper in sizes),
        regions="".join(f'*PageRegion {paper}: "<<>>setpagedevice"\n' for paper in sizes),
        areas="".join(f'*ImageableArea {paper}: "0 0 {wide} {high}"\n' for paper, (wide, high) in sizes.items()),
        dimensions="".join(f'*PaperDimension {paper}: "{wide} {high}"\n' for paper, (wide, high) in sizes.items()),
        own=OWN_SIZES if own else "",
    )  # fmt: skip


@pytest.fixture
def queue() -> Iterator[Queue]:
    """A service that runs, and its only queue."""
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as name:
        yield from running(Path(name))


def running(folder: Path) -> Iterator[Queue]:
    """Run a service in a folder that its filters, which are another user's, may read."""
    folder.chmod(0o755)
    for name in ("root", "spool/tmp", "cache", "state/certs", "log"):
        (folder / name).mkdir(parents=True)
    (folder / "files").write_text(FILES.format(folder))
    (folder / "rules").write_text(RULES.format(folder))
    made = Queue(folder)
    program = tool("cupsd")
    assert program is not None
    service = subprocess.Popen([program, "-f", "-c", str(folder / "rules"), "-s", str(folder / "files")],
                               stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)  # fmt: skip
    try:
        end = time.monotonic() + PATIENCE
        while not made.takes(("Letter", "A3"), own=True):
            assert service.poll() is None
            assert time.monotonic() < end
            time.sleep(0.1)
        yield made
    finally:
        service.terminate()
        service.wait(PATIENCE)


@pytest.mark.parametrize("paper", ["letter", "a3", "roll24"])
def test_what_arrives_at_a_queue_is_at_full_scale(queue: Queue, paper: str) -> None:
    """Each circle of the planned marks arrives within 0.02 mm, so the correction in them is there once and not twice.

    A driver has its papers in whole points, so that A3 is 0.16 mm longer. The marks hang from the paper's top.
    """
    planned = queue.prints(paper)
    arrived = read_with_pdfium(queue.arrived.read_bytes())
    assert len(arrived) == len(planned)
    count = 0
    for page, sheet in zip(planned, arrived, strict=True):
        assert sorted((sheet.width, sheet.height)) == pytest.approx(sorted(page["size"]), abs=0.5)
        longer = sheet.height - page["size"][1] if sheet.height > sheet.width else 0.0
        for u, v, radius in page["circles"]:
            assert sheet.circle_at((u, v + longer), radius, NEAR)
            count += 1
    assert count >= 4
    job = queue.job()
    assert b"one-sided" in job
    assert b"two-sided" not in job


def test_a_printer_without_the_paper_takes_no_sheet(queue: Queue) -> None:
    """A queue that has Letter alone would put A3 on Letter, and nobody would say so."""
    assert queue.takes(("Letter",), own=False)
    done = queue.print("a3")
    assert done.returncode == 1
    assert "The printer boat has no A3 paper." in done.stderr
    assert not queue.arrived.exists()
