"""A small HTTP client over kept connections, so that the load costs less than what it measures."""

from __future__ import annotations

import asyncio
import json
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, slots=True)
class Answer:
    """Status, header fields in lower case, and body."""

    status: int
    headers: dict[str, str]
    body: bytes

    def json(self) -> Any:
        """Give the body's values."""
        return json.loads(self.body)


class Connections:
    """As many connections to one server as there are requests at once."""

    def __init__(self, port: int) -> None:
        self._port = port
        self._idle: list[tuple[asyncio.StreamReader, asyncio.StreamWriter]] = []

    async def ask(
        self, method: str, path: str, body: bytes = b"", headers: dict[str, str] | None = None
    ) -> Answer:
        """Send one request and read its answer."""
        reader, writer = self._idle.pop() if self._idle else await self._open()
        lines = [f"{method} {path} HTTP/1.1", "Host: 127.0.0.1", f"Content-Length: {len(body)}"]
        lines += [f"{name}: {value}" for name, value in (headers or {}).items()]
        writer.write("\r\n".join(lines).encode() + b"\r\n\r\n" + body)
        try:
            await writer.drain()
            answer = await _read(reader)
        except BaseException:
            writer.close()
            raise
        self._idle.append((reader, writer))
        return answer

    async def post(self, path: str, body: object, **headers: str) -> Answer:
        """Send a JSON body."""
        data = body.encode() if isinstance(body, str) else json.dumps(body).encode()
        named = {name.replace("_", "-"): value for name, value in headers.items()}
        return await self.ask("POST", path, data, {"Content-Type": "application/json", **named})

    async def close(self) -> None:
        """Close every connection."""
        for _, writer in self._idle:
            writer.close()

    async def _open(self) -> tuple[asyncio.StreamReader, asyncio.StreamWriter]:
        return await asyncio.open_connection("127.0.0.1", self._port, limit=1 << 20)


async def _read(reader: asyncio.StreamReader) -> Answer:
    head = (await reader.readuntil(b"\r\n\r\n")).decode("latin-1").split("\r\n")
    fields = (line.partition(":") for line in head[1:] if line)
    headers = {name.strip().lower(): value.strip() for name, _, value in fields}
    if "content-length" in headers:
        body = await reader.readexactly(int(headers["content-length"]))
    elif headers.get("transfer-encoding") == "chunked":
        body = b"".join([chunk async for chunk in _chunks(reader)])
    else:
        body = b""
    return Answer(int(head[0].split(" ")[1]), headers, body)


async def _chunks(reader: asyncio.StreamReader) -> AsyncIterator[bytes]:
    while size := int(await reader.readline(), 16):
        yield await reader.readexactly(size)
        await reader.readline()
    await reader.readline()


@asynccontextmanager
async def connected(port: int) -> AsyncIterator[Connections]:
    """Give connections to a server, closed afterwards."""
    connections = Connections(port)
    try:
        yield connections
    finally:
        await connections.close()
