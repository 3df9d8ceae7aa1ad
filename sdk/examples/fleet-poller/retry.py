"""Calls that are sent again when the server says so.

UNAVAILABLE and RESOURCE_EXHAUSTED are worth another try, and only when the server has not said that
nothing but a smaller request helps. The wait is what the server asks for (google.rpc.RetryInfo), else
doubles from half a second with jitter, so that many pollers do not come back at once.
"""

import random
import sys
import time
from typing import Callable, TypeVar

import grpc
from google.rpc import error_details_pb2
from grpc_status import rpc_status

WORTH_RETRYING = (grpc.StatusCode.UNAVAILABLE, grpc.StatusCode.RESOURCE_EXHAUSTED)
FIRST_WAIT_S = 0.5
LONGEST_WAIT_S = 30.0

Answer = TypeVar("Answer")


def asked_wait_s(error: grpc.RpcError) -> float | None:
    """The wait that the server asks for."""
    status = rpc_status.from_call(error)
    for detail in status.details if status else []:
        info = error_details_pb2.RetryInfo()
        if detail.Unpack(info):
            return info.retry_delay.seconds + info.retry_delay.nanos / 1e9
    return None


def is_too_large(error: grpc.RpcError) -> bool:
    """Whether the server refused the size: the same request will not fit later either."""
    status = rpc_status.from_call(error)
    for detail in status.details if status else []:
        info = error_details_pb2.ErrorInfo()
        if detail.Unpack(info) and info.reason == "TOO_LARGE":
            return True
    return False


def wait_s(error: grpc.RpcError, tries: int, chance: Callable[[], float] = random.random) -> float:
    """How long to wait after so many tries."""
    asked = asked_wait_s(error)
    backoff = min(LONGEST_WAIT_S, FIRST_WAIT_S * 2 ** (tries - 1))
    return asked if asked is not None else backoff * (0.5 + 0.5 * chance())


def with_retry(call: Callable[[], Answer], tries: int, sleep: Callable[[float], None] = time.sleep) -> Answer:
    """Calls, and calls again while that is worth it, at most `tries` times."""
    for attempt in range(1, tries + 1):
        try:
            return call()
        except grpc.RpcError as error:
            hopeless = error.code() not in WORTH_RETRYING or is_too_large(error)
            if hopeless or attempt == tries:
                raise
            wait = wait_s(error, attempt)
            print(f"{error.code().name}; again in {wait:.1f} s", file=sys.stderr)
            sleep(wait)
    raise ValueError("at least one try is needed")
