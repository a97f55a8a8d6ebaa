"""What an installation may set, from the environment (``NESTING_...``) or the command line."""

from __future__ import annotations

import ipaddress
from enum import StrEnum
from pathlib import Path

from pydantic import Field
from pydantic_settings import BaseSettings, SettingsConfigDict

MEGABYTE = 1_000_000


class KeyRule(StrEnum):
    """When API keys are asked for: on every bind but loopback, or always."""

    AUTO = "auto"
    REQUIRED = "required"


class Settings(BaseSettings):
    """
    Everything that bounds the service.

    Every field may be given as an environment variable with ``NESTING_`` before its name.
    """

    model_config = SettingsConfigDict(env_prefix="NESTING_", extra="ignore", frozen=True)

    database: str = Field(default="", description="SQLAlchemy URL; empty: a SQLite file in the data folder.")
    data: Path = Field(default=Path("nesting-data"), description="Folder of the SQLite file.")
    host: str = Field(default="127.0.0.1", description="Address to listen on.")
    port: int = Field(default=8484, ge=0, le=65535, description="Port to listen on.")
    keys: KeyRule = Field(default=KeyRule.AUTO, description="When API keys are required.")
    hosts: tuple[str, ...] = Field(
        default=(),
        description="Names this service is reached by besides loopback; empty on other binds: any.",
    )

    solvers: int = Field(default=2, ge=0, le=64, description="Solver processes of this server's own worker.")
    clerks: int = Field(
        default=1, ge=1, le=16, description="Processes that read uploads and write workbooks."
    )
    clerk_seconds: float = Field(
        default=20.0, gt=0, description="Longest reading of one upload, of processor time."
    )
    clerk_megabytes: int = Field(default=1_500, ge=256, description="Address space of one such process.")

    plan_seconds: float = Field(default=60.0, gt=0, description="Search time of a plan that names none.")
    max_plan_seconds: float = Field(
        default=600.0, gt=0, description="Longest search time a plan may ask for."
    )
    max_wait: float = Field(default=30.0, ge=0, description="Longest wait one request may ask for, seconds.")
    max_pieces: int = Field(default=20_000, ge=1, description="Most pieces of one plan.")
    max_queue: int = Field(default=10_000, ge=1, description="Most plans waiting.")
    max_attempts: int = Field(
        default=100, ge=1, description="Times a plan is started anew before it is given up."
    )
    max_crashes: int = Field(default=3, ge=1, description="Times a plan may bring its solver process down.")
    lease_seconds: float = Field(
        default=10.0, gt=0, description="Silence after which a worker counts as dead."
    )

    max_json: int = Field(default=5 * MEGABYTE, ge=1_000, description="Largest JSON body, bytes.")
    max_upload: int = Field(default=20 * MEGABYTE, ge=1_000, description="Largest uploaded file, bytes.")
    rate: float = Field(default=300.0, ge=0, description="Requests a second and caller; 0 for no limit.")
    burst: int = Field(default=600, ge=1, description="Requests a caller may make at once.")
    max_streams: int = Field(default=100, ge=1, description="Progress streams and waits open at once.")

    @property
    def url(self) -> str:
        """The database's URL."""
        return self.database or f"sqlite:///{(self.data / 'nesting.sqlite3').resolve()}"

    @property
    def loopback(self) -> bool:
        """Whether only this machine can reach the service."""
        try:
            return ipaddress.ip_address(self.host.strip("[]")).is_loopback
        except ValueError:
            return self.host == "localhost"

    @property
    def keys_required(self) -> bool:
        """Whether every request needs a key."""
        return self.keys is KeyRule.REQUIRED or not self.loopback
