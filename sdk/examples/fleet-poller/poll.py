#!/usr/bin/env python3
"""A fleet page: polls the remaining life of every installed component, worst first.

Exits 0 when every component has a prediction that holds together, 1 otherwise.
"""

import argparse
import math
import pathlib
import sys
import time

import generate

generate.ready()

import grpc  # noqa: E402
from ringland.v1 import (  # noqa: E402
    components_pb2,
    components_pb2_grpc,
    predictions_pb2,
    predictions_pb2_grpc,
)

from retry import with_retry  # noqa: E402

PAGE = 200
BATCH = 100
CALL_LIMIT_S = 60.0


class Wrong(Exception):
    """The server answered with something that cannot be."""


class Server:
    """The calls that a fleet page needs."""

    def __init__(self, channel: grpc.Channel, options: argparse.Namespace) -> None:
        self._components = components_pb2_grpc.ComponentServiceStub(channel)
        self._predictions = predictions_pb2_grpc.PredictionServiceStub(channel)
        self._tries = options.tries
        self._metadata = []
        if options.token_file:
            token = options.token_file.read_text().strip()
            self._metadata = [("authorization", f"Bearer {token}")]

    def _call(self, method, request):
        once = lambda: method(request, timeout=CALL_LIMIT_S, metadata=self._metadata)  # noqa: E731
        return with_retry(once, self._tries)

    def installed_components(self) -> list[str]:
        """Names of all components that are installed somewhere, page by page."""
        names: list[str] = []
        token = ""
        while True:
            request = components_pb2.ListComponentsRequest(page_size=PAGE, page_token=token)
            page = self._call(self._components.ListComponents, request)
            names += [c.name for c in page.components if c.installed_build]
            token = page.next_page_token
            if not token:
                return names

    def predict(self, names: list[str]):
        """Each component with its prediction, or with the status that says why it has none."""
        for first in range(0, len(names), BATCH):
            batch = names[first : first + BATCH]
            request = predictions_pb2.BatchPredictRequest(
                requests=[predictions_pb2.PredictRequest(component=name) for name in batch]
            )
            results = self._call(self._predictions.BatchPredict, request).results
            if len(results) != len(batch):
                raise Wrong(f"{len(results)} results for {len(batch)} requests")
            yield from zip(batch, results)

    def watch(self):
        """Changes as they come; no limit on time, that is the point."""
        request = predictions_pb2.WatchPredictionsRequest()
        return self._predictions.WatchPredictions(request, metadata=self._metadata)


def check(prediction: predictions_pb2.Prediction, component: str) -> None:
    """Refuses a prediction that cannot be."""
    if prediction.component != component:
        raise Wrong(f"a prediction of {prediction.component!r} for {component!r}")
    events = prediction.life.events
    if not 0.0 <= events.p05 <= events.p50 <= events.p95 < math.inf:
        raise Wrong(f"{component}: {events.p05}, {events.p50}, {events.p95} events are not in order")
    if not 0.0 <= prediction.risk_next_event <= 1.0:
        raise Wrong(f"{component}: a risk of {prediction.risk_next_event}")
    if not prediction.cautions:
        raise Wrong(f"{component}: no cautions")


def last_part(name: str) -> str:
    return name.rsplit("/", 1)[-1]


def line(prediction: predictions_pb2.Prediction) -> str:
    """One row of the page."""
    life = prediction.life

    def text(value: float) -> str:
        return f"> {life.horizon_events:.0f}" if value >= life.horizon_events > 0 else f"{value:.1f}"

    events = life.events
    left = f"{text(events.p50)} ({text(events.p05)} to {text(events.p95)})"
    place = "/".join(prediction.build.split("/")[1::2]) or "-"
    ends_by = next(
        (m.label for m in prediction.mechanisms if m.mechanism == prediction.limiting_mechanism),
        prediction.limiting_mechanism,
    )
    return (
        f"{last_part(prediction.component):20}  {place:20}  {left:24}  "
        f"{prediction.risk_next_event:8.1%}  {ends_by}"
    )


HEADER = f"{'component':20}  {'in':20}  {'events left P50 (P05-P95)':24}  {'next':>7}  ends by"


def poll(server: Server) -> bool:
    """Prints the fleet once; whether all of it has predictions."""
    predictions, errors = [], []
    for component, result in server.predict(server.installed_components()):
        if result.WhichOneof("result") == "prediction":
            check(result.prediction, component)
            predictions.append(result.prediction)
        elif result.WhichOneof("result") == "error":
            errors.append((component, result.error))
        else:
            raise Wrong(f"{component}: neither a prediction nor an error")
    predictions.sort(key=lambda p: (-p.risk_next_event, p.life.events.p05, p.component))
    print(HEADER)
    for prediction in predictions:
        print(line(prediction))
    for caution in sorted({caution for p in predictions for caution in p.cautions}):
        print(f"  caution: {caution}")
    for component, error in errors:
        print(f"{component} has no prediction: {error.message}", file=sys.stderr)
    sys.stdout.flush()
    return not errors


def watch(server: Server, once: bool) -> bool:
    """Prints changes as they come; with `once`, until those of now have come."""
    fine = True
    for response in server.watch():
        change = response.WhichOneof("change")
        if change == "prediction":
            check(response.prediction, response.prediction.component)
            print(line(response.prediction), flush=True)
        elif change == "error":
            fine = False
            message = response.error.status.message
            print(f"{response.error.component} has no prediction: {message}", file=sys.stderr)
        elif change == "caught_up":
            print("-- these are the predictions of now; changes follow", flush=True)
            if once:
                return fine
        elif change == "resync":
            print("-- too slow: everything is sent again", flush=True)
        else:
            raise Wrong(f"a change of an unknown kind: {response}")
    raise Wrong("the server ended the watch")


def arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--server", default="127.0.0.1:7420", help="host:port (default %(default)s)")
    parser.add_argument("--token-file", type=pathlib.Path, help="file with the bearer token")
    parser.add_argument("--ca-file", type=pathlib.Path, help="certificate authority (PEM); turns TLS on")
    parser.add_argument("--every", type=float, default=60.0, help="seconds between polls (default %(default)s)")
    parser.add_argument("--once", action="store_true", help="poll once, or watch until caught up, and stop")
    parser.add_argument("--watch", action="store_true", help="follow changes in place of polling")
    parser.add_argument("--tries", type=int, default=5, help="tries for each call (default %(default)s)")
    return parser.parse_args()


def run(options: argparse.Namespace) -> bool:
    if options.ca_file:
        trusted = grpc.ssl_channel_credentials(options.ca_file.read_bytes())
        channel = grpc.secure_channel(options.server, trusted)
    else:
        channel = grpc.insecure_channel(options.server)
    with channel:
        server = Server(channel, options)
        if options.watch:
            return watch(server, options.once)
        while True:
            fine = poll(server)
            if options.once:
                return fine
            time.sleep(options.every)


def main() -> int:
    try:
        return 0 if run(arguments()) else 1
    except grpc.RpcError as error:
        print(f"{error.code().name}: {error.details()}", file=sys.stderr)
    except Wrong as error:
        print(f"the server's answer cannot be: {error}", file=sys.stderr)
    except KeyboardInterrupt:
        return 0
    return 1


if __name__ == "__main__":
    sys.exit(main())
