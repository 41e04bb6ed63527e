"""Settings, read from the environment once, when the application is made."""

import os
import re
import sys
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field, fields
from difflib import get_close_matches
from functools import partial
from typing import Any, TypeVar

PREFIX = "LASTVOLT_"
# Names with our prefix that are none of ours: what a caller's own client reads, and what an
# orchestrator puts there for a service of this name.
_CALLERS = frozenset({"LASTVOLT_URL", "LASTVOLT_API_KEY"})
_ORCHESTRATORS = re.compile(
    r"LASTVOLT_(?:SERVICE_HOST|SERVICE_PORT(?:_\w+)?|PORT(?:_\d+_(?:TCP|UDP|SCTP)(?:_\w+)?)?)"
)
_LONGEST_S = 3600.0
_MIB = 1024 * 1024

_Made = TypeVar("_Made")


class WrongSetting(ValueError):
    """The service cannot start as it is set up; the text is for whoever runs it."""


_ADDRESS = re.compile(r"(?:\[[0-9a-fA-F:]+\]|[^\s:\[\]]+):\d{1,5}", re.ASCII)
_AN_ADDRESS = 'an address and a port, such as "127.0.0.1:8752"'
_ORIGIN = re.compile(r"https?://[a-z0-9.\-]+(?::\d{1,5})?", re.ASCII)
_RATE = re.compile(r"[1-9]\d{0,8}/(?:second|minute|hour|day)", re.ASCII)
_STORAGE = re.compile(r"memory://|rediss?://\S+", re.ASCII)


def _count(text: str, *, least: int = 1, most: int) -> int:
    if text.isascii() and text.isdigit() and len(text) <= 12 and least <= int(text) <= most:
        return int(text)
    raise ValueError(f"a whole number from {least} to {most}")


def _seconds(text: str) -> float:
    if re.fullmatch(r"\d{1,9}(?:\.\d{1,9})?", text, re.ASCII) and 0 < float(text) <= _LONGEST_S:
        return float(text)
    raise ValueError(f"a positive number of seconds, {_LONGEST_S:g} at most")


def _switch(text: str) -> bool:
    if text in {"on", "off"}:
        return text == "on"
    raise ValueError('"on" or "off"')


def _origins(text: str) -> tuple[str, ...]:
    found = tuple(text.split())
    if all(_ORIGIN.fullmatch(origin) for origin in found):
        return found
    raise ValueError('origins such as "https://shop.example", parted by blanks')


def parse_rate(text: str) -> str:
    """Check how a rate is written.

    Returns
    -------
    str
        The same.

    Raises
    ------
    ValueError
        What it must be.
    """
    return _like(_RATE, 'a rate such as "60/minute"', text)


def _address(text: str) -> str:
    port = _like(_ADDRESS, _AN_ADDRESS, text).rpartition(":")[2]
    if int(port) <= 65_535:
        return text
    raise ValueError(_AN_ADDRESS)


def _storage(text: str) -> str:
    return _like(_STORAGE, "memory:// or redis://…", text)


def _like(pattern: re.Pattern[str], what: str, text: str) -> str:
    if pattern.fullmatch(text):
        return text
    raise ValueError(what)


def _setting(default: Any, parse: Callable[[str], Any], *, secret: bool = False) -> Any:
    return field(default=default, repr=not secret, metadata={"parse": parse, "secret": secret})


def _up_to(most: int, *, least: int = 1) -> Callable[[str], int]:
    return partial(_count, least=least, most=most)


@dataclass(frozen=True, slots=True)
class Config:
    """Settings of the service: every limit stands here, or beside the one place that uses it.

    Each is read from the variable of its name in capitals after ``LASTVOLT_``, such as
    ``LASTVOLT_MAX_BODY_BYTES``. Limits of JSON are in `lastvolt_service.api.body`, of texts and
    lists in the schemas, of request line and header fields in `lastvolt_service.gunicorn_conf`.

    Attributes
    ----------
    bind : str
        Address and port to listen on. Loopback, unless told otherwise.
    workers, threads : int
        Processes, and threads in each. Work is arithmetic: as many processes as cores. A thread
        more lets a short request pass a long one.
    max_body_bytes, max_batch_body_bytes : int
        Largest request body; that of paths under ``/v1/batch/``.
    max_batch_rows : int
        Most rows of one request under ``/v1/batch/``.
    deadline_s, batch_deadline_s : float
        Longest time that a request may take, its body included; that of batches. It then gets
        422, or 408 if it was still sending.
    stall_s : float
        Longest wait for the next piece of a request.
    probes : str
        Address and port of a listener for ``/livez`` and ``/readyz`` alone, which answers while
        all threads are busy; empty is none. On the first listener they wait their turn.
    trusted_proxies : int
        How many proxies in front add to ``X-Forwarded-For``; 0 believes no such header.
    api_keys_file : str
        TOML file of keys, see `lastvolt_service.keys`; without it everyone may ask.
    rate_limit : str
        What a caller without a rate of its own may ask, such as ``60/minute``; empty is no limit.
    rate_storage : str
        Where calls are counted. ``memory://`` counts in each worker for itself, so that callers
        get up to `workers` times the rate; ``redis://host:port/0`` counts them together.
    cors_origins : tuple of str
        Origins whose pages may ask from a browser, parted by blanks; none by default.
    hsts_s : int
        Seconds for which browsers shall insist on TLS; 0 sends no such header. For a service
        that is reached by TLS only.
    request_log : bool
        ``off`` leaves out the line of each request, which costs a quarter of a short one.
    metrics : str
        Address and port of a second listener, for Prometheus alone; empty is none.
    otel : bool
        ``on`` sends OpenTelemetry traces, configured by the usual ``OTEL_`` variables.
    """

    bind: str = _setting("127.0.0.1:8752", _address)
    workers: int = _setting(min(os.cpu_count() or 1, 64), _up_to(64))
    threads: int = _setting(4, _up_to(64))
    max_body_bytes: int = _setting(_MIB, _up_to(64 * _MIB))
    max_batch_body_bytes: int = _setting(64 * _MIB, _up_to(1024 * _MIB))
    max_batch_rows: int = _setting(65_536, _up_to(1_000_000))
    deadline_s: float = _setting(8.0, _seconds)
    batch_deadline_s: float = _setting(60.0, _seconds)
    stall_s: float = _setting(5.0, _seconds)
    probes: str = _setting("", _address)
    trusted_proxies: int = _setting(0, _up_to(16, least=0))
    api_keys_file: str = _setting("", str)
    rate_limit: str = _setting("", parse_rate)
    rate_storage: str = _setting("memory://", _storage, secret=True)
    cors_origins: tuple[str, ...] = _setting((), _origins)
    hsts_s: int = _setting(0, _up_to(10 * 365 * 86_400, least=0))
    request_log: bool = _setting(True, _switch)
    metrics: str = _setting("", _address)
    otel: bool = _setting(False, _switch)

    @classmethod
    def from_environment(cls, environment: Mapping[str, str] = os.environ) -> "Config":
        """Read the settings that are there and keep the defaults of the others.

        Raises
        ------
        WrongSetting
            If a setting makes no sense, or there is none of its name; it names the variable.
        """
        given = {}
        settings = {PREFIX + each.name.upper(): each for each in fields(cls)}
        _refuse_unknown(environment, settings)
        for name, each in settings.items():
            if text := environment.get(name):
                try:
                    given[each.name] = each.metadata["parse"](text)
                except ValueError as error:
                    told = "what it is" if each.metadata["secret"] else repr(text)
                    raise WrongSetting(f"{name} must be {error}, not {told}.") from None
        return cls(**given)


def _refuse_unknown(names: Iterable[str], known: Iterable[str]) -> None:
    """A setting that is misspelt would be left at its default, and nobody would know."""
    for name in sorted(names):
        if not name.startswith(PREFIX) or name in {*known, *_CALLERS}:
            continue
        if not _ORCHESTRATORS.fullmatch(name):
            # Without what they all begin with, which would make them all alike.
            ends = [each.removeprefix(PREFIX) for each in known]
            near = get_close_matches(name.removeprefix(PREFIX).upper(), ends, n=1)
            few = f"; did you mean {PREFIX}{near[0]}?" if near else None
            hint = few or f": there are {', '.join(known)}."
            raise WrongSetting(f"There is no setting {name}{hint}")


def or_exit(make: Callable[[], _Made]) -> _Made:
    """Do what needs the settings, or end the program with one line that says what is wrong.

    Returns
    -------
    object
        What it makes.
    """
    try:
        return make()
    except WrongSetting as error:
        sys.exit(f"lastvolt: {error}")
