"""The packages and fonts that come with the program, with versions and licences; as a list, and as CycloneDX."""

from __future__ import annotations

import json
import re
import sys
from importlib.metadata import Distribution, PackageNotFoundError, distribution
from typing import Any, NamedTuple

PACKAGES = ("msgspec", "numpy", "pypdfium2", "PySide6-Essentials", "reportlab", "shapely")  # as pyproject.toml has them
_FONTS = ("DejaVu fonts", "2.37", "Bitstream Vera and Arev fonts' licence; changes in the public domain")
_NAME = re.compile(r"[A-Za-z0-9._-]+")
_LONG = 80  # letters: a longer licence field holds the licence's whole text


class Component(NamedTuple):
    """One of them."""

    name: str
    version: str
    licence: str
    package: bool = True


def components() -> tuple[Component, ...]:
    """Return the interpreter, all packages that the program needs, by name, and its fonts."""
    waiting, known = list(PACKAGES), dict[str, Component]()
    while waiting:
        name = waiting.pop()
        key = name.lower().replace("_", "-")
        if key in known:
            continue
        try:
            package = distribution(name)
        except PackageNotFoundError:
            continue
        known[key] = Component(package.metadata["Name"], package.version, _licence(package))
        waiting += [
            match[0] for need in package.requires or () if "extra ==" not in need and (match := _NAME.match(need)) is not None
        ]
    python = Component("Python", ".".join(map(str, sys.version_info[:3])), "PSF-2.0", package=False)
    return (python, *(known[key] for key in sorted(known)), Component(*_FONTS, package=False))


def _licence(package: Distribution) -> str:
    """Return a package's licence: its expression, its short text, or its classifiers."""
    fields = package.metadata
    stated = next((fields[key] for key in ("License-Expression", "License") if fields[key]), "")
    if stated and len(stated) <= _LONG and "\n" not in stated:
        return stated
    kinds = [line.rpartition(" :: ")[2] for line in fields.get_all("Classifier") or () if line.startswith("License ::")]
    return ", ".join(kinds) or stated.partition("\n")[0][:_LONG] or "see its own files"


def listing() -> str:
    """Return one line for each: name, version, licence."""
    return "\n".join(f"{each.name} {each.version}: {each.licence}" for each in components())


def cyclonedx(version: str) -> str:
    """Return the components as CycloneDX 1.6 in JSON, for the program of ``version``."""
    return json.dumps({
        "bomFormat": "CycloneDX", "specVersion": "1.6", "version": 1,
        "metadata": {"component": {"type": "application", "bom-ref": "boltwell", "name": "boltwell", "version": version}},
        "components": [_record(each) for each in components()],
        "dependencies": [{"ref": "boltwell", "dependsOn": [_ref(each) for each in components()]}],
    }, indent=2)  # fmt: skip


def _record(component: Component) -> dict[str, Any]:
    kind = "library" if component.package else "application" if component.name == "Python" else "data"
    record: dict[str, Any] = {
        "type": kind, "bom-ref": _ref(component), "name": component.name, "version": component.version,
        "licenses": [{"license": {"name": component.licence}}],
    }  # fmt: skip
    if component.package:
        record["purl"] = _ref(component)
    return record


def _ref(component: Component) -> str:
    name = component.name.lower()
    return f"pkg:pypi/{name.replace('_', '-')}@{component.version}" if component.package else f"{name}@{component.version}"
