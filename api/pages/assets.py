"""Static files of the pages: named with a digest of what is in them, so that browsers may keep them."""

from __future__ import annotations

import hashlib
import mimetypes
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Annotated

from fastapi import APIRouter, Header, Query, Response

from api.web.problems import not_found

FOLDER = Path(__file__).parent / "static"
_FOR_EVER = "public, max-age=31536000, immutable"
_ASK_AGAIN = "no-cache"
_TYPES = {".js": "text/javascript", ".css": "text/css", ".svg": "image/svg+xml"}

router = APIRouter()


@dataclass(frozen=True, slots=True)
class Asset:
    """One static file and the digest its address carries."""

    name: str
    body: bytes
    media_type: str
    digest: str


@cache
def assets() -> dict[str, Asset]:
    """Give every static file by its name; they are few and small, and never change while the service runs."""
    return {path.name: _read(path) for path in sorted(FOLDER.iterdir()) if path.is_file()}


def _read(path: Path) -> Asset:
    body = path.read_bytes()
    kind = _TYPES.get(path.suffix) or mimetypes.guess_type(path.name)[0] or "application/octet-stream"
    return Asset(path.name, body, kind, hashlib.sha256(body).hexdigest()[:16])


def static_url(name: str) -> str:
    """
    Give the address of a static file, which changes with what is in it.

    Raises
    ------
    KeyError
        When there is no such file.
    """
    return f"/static/{name}?v={assets()[name].digest}"


@router.get("/static/{name}")
def read_asset(
    name: str,
    v: Annotated[str, Query(max_length=64)] = "",
    if_none_match: Annotated[str, Header()] = "",
) -> Response:
    """Fetch a static file; without the digest in its address browsers ask each time if it has changed."""
    asset = assets().get(name)
    if asset is None:
        raise not_found(f"file {name[:80]}")
    tag = f'"{asset.digest}"'
    headers = {"ETag": tag, "Cache-Control": _FOR_EVER if v == asset.digest else _ASK_AGAIN}
    if tag in if_none_match:
        return Response(status_code=304, headers=headers)
    return Response(asset.body, media_type=asset.media_type, headers=headers)
