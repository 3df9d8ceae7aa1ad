#!/usr/bin/env python3
"""A dyno cell: streams a pull into the life ledger, then asks how the piston rings are.

During a break-in it also asks whether they are seated (--blow-by): stop, or one more pull.

Exits 0 when the pull is recorded and the answers hold together, 1 otherwise.
"""

import argparse
import datetime
import hashlib
import math
import pathlib
import sys

import generate

generate.ready()

import grpc  # noqa: E402
from google.protobuf import timestamp_pb2  # noqa: E402
from grpc_status import rpc_status  # noqa: E402
from google.rpc import error_details_pb2  # noqa: E402
from ringland.v1 import (  # noqa: E402
    common_pb2,
    duty_pb2,
    duty_pb2_grpc,
    models_pb2,
    models_pb2_grpc,
    predictions_pb2,
    predictions_pb2_grpc,
    running_in_pb2,
    running_in_pb2_grpc,
)

import pull  # noqa: E402

CHANNELS = [
    ("engine_speed_rad_s", "rad/s"),
    ("engine_torque_n_m", "N.m"),
    ("oil_temp_k", "K"),
    ("coolant_temp_k", "K"),
]
SAMPLES_A_MESSAGE = 50
CALL_LIMIT_S = 60.0
M3_S_PER_L_MIN = 1e-3 / 60.0


class Wrong(Exception):
    """The server answered with something that cannot be."""


def expect(holds: bool, what: str) -> None:
    """Refuses an answer that cannot be."""
    if not holds:
        raise Wrong(what)


def flows(text: str) -> list[float]:
    return [float(flow) for flow in text.split(",")]


def arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--server", default="127.0.0.1:7420", help="host:port (default %(default)s)")
    parser.add_argument("--token-file", type=pathlib.Path, help="file with the bearer token")
    parser.add_argument("--ca-file", type=pathlib.Path, help="certificate authority (PEM); turns TLS on")
    parser.add_argument("--unit", required=True, help="units/engine-a")
    parser.add_argument("--component", required=True, help="components/rings-a")
    parser.add_argument("--profile", default="", help="profile of an event (default: the unit's)")
    parser.add_argument("--blow-by", type=flows, default=[], metavar="L/MIN,...",
                        help="blow-by of the break-in so far at 1 bar and 300 K, before the first pull, after it, ...")
    parser.add_argument("--start", help="when the pull started, RFC 3339 (default: now)")
    return parser.parse_args()


def connect(options: argparse.Namespace) -> grpc.Channel:
    if options.ca_file:
        trusted = grpc.ssl_channel_credentials(options.ca_file.read_bytes())
        return grpc.secure_channel(options.server, trusted)
    return grpc.insecure_channel(options.server)


def metadata(options: argparse.Namespace) -> list[tuple[str, str]]:
    if not options.token_file:
        return []
    return [("authorization", f"Bearer {options.token_file.read_text().strip()}")]


def start_time(text: str | None) -> datetime.datetime:
    if text is None:
        return datetime.datetime.now(datetime.timezone.utc).replace(microsecond=0)
    time = datetime.datetime.fromisoformat(text.replace("Z", "+00:00"))
    return time if time.tzinfo else time.replace(tzinfo=datetime.timezone.utc)


def messages(unit: str, start: datetime.datetime, made: pull.Pull):
    """The header, then a second of samples at a time."""
    stamp = timestamp_pb2.Timestamp()
    stamp.FromDatetime(start)
    # The same pull has the same id: when an answer is lost, sending it again is harmless.
    request_id = hashlib.sha256(f"{unit} {start.isoformat()}".encode()).hexdigest()[:32]
    header = duty_pb2.DutyHeader(
        unit=unit,
        request_id=f"dyno-{request_id}",
        start_time=stamp,
        session="dyno pull",
        source="inertia dyno",
        sample_channels=[duty_pb2.SampleChannel(channel=c, unit=u) for c, u in CHANNELS],
    )
    yield duty_pb2.RecordDutyRequest(header=header)
    columns = [getattr(made, channel) for channel, _ in CHANNELS]
    for first in range(0, len(made.time_s), SAMPLES_A_MESSAGE):
        piece = slice(first, first + SAMPLES_A_MESSAGE)
        samples = duty_pb2.SampleChunk(
            time_s=made.time_s[piece],
            columns=[common_pb2.Column(values=column[piece]) for column in columns],
        )
        yield duty_pb2.RecordDutyRequest(samples=samples)


def check_record(record: duty_pb2.DutyRecord, made: pull.Pull) -> None:
    """What was recorded is what was sent."""
    expect(record.name.startswith(record.unit + "/dutyRecords/"), f"a record named {record.name!r}")
    duration = made.time_s[-1] - made.time_s[0]
    expect(
        abs(record.duration_s - duration) < 0.1,
        f"{record.duration_s} s recorded of a pull of {duration} s",
    )
    sent = made.revolutions()
    expect(
        abs(record.crank_revolutions / sent - 1.0) < 0.01,
        f"{record.crank_revolutions:.1f} revolutions recorded of {sent:.1f}",
    )
    flaws = [flaw.kind for flaw in record.intake_report.flaws]
    expect(not flaws, f"flaws {flaws} in a log without any")


def check_prediction(prediction: predictions_pb2.Prediction, component: str) -> None:
    """Quantiles are finite and in order, probabilities are ones, cautions come along."""
    expect(prediction.component == component, f"a prediction of {prediction.component!r}")
    lives = [("all mechanisms", prediction.life)]
    lives += [(mechanism.label, mechanism.life) for mechanism in prediction.mechanisms]
    expect(len(lives) > 1, "no mechanism")
    for label, life in lives:
        for measure in ("events", "hours"):
            q = getattr(life, measure)
            in_order = 0.0 <= q.p05 <= q.p50 <= q.p95 < math.inf
            expect(in_order, f"{label}: {measure} {q.p05}, {q.p50}, {q.p95} are not in order")
    for risk in [prediction.risk_next_event, prediction.limiting_probability]:
        expect(0.0 <= risk <= 1.0, f"a probability of {risk}")
    expect(len(prediction.cautions) > 0, "no cautions")
    expect(prediction.use.duty_records > 0, "no duty record counted")


def show_record(answer: duty_pb2.RecordDutyResponse) -> None:
    record = answer.duty_record
    word = "was recorded before" if answer.replayed else "recorded"
    print(f"{record.name} {word}: {record.duration_s:.1f} s, {record.crank_revolutions:.0f} rev")


def quantiles(life: predictions_pb2.RemainingLife, measure: str) -> str:
    """P50 and what it lies between; what is at the horizon is at least that."""
    values = getattr(life, measure)
    numbers = []
    for name in ("p50", "p05", "p95"):
        at_horizon = getattr(life.events, name) >= life.horizon_events > 0.0
        numbers.append(f"{'> ' if at_horizon else ''}{getattr(values, name):.1f}")
    median, low, high = numbers
    return f"P50 {median} {measure} (P05 {low}, P95 {high})"


def show_prediction(prediction: predictions_pb2.Prediction, card: models_pb2.Card) -> None:
    print(f"\n{prediction.component} in {prediction.build}")
    print(f"  ring life left: {quantiles(prediction.life, 'events')}")
    print(f"                  {quantiles(prediction.life, 'hours')}")
    for mechanism in prediction.mechanisms:
        first = f"{mechanism.first_probability:.0%} likely to come first"
        print(f"  {mechanism.label}: {quantiles(mechanism.life, 'events')}, {first}")
    print(f"  risk in the next event: {prediction.risk_next_event:.1%}")
    print(f"  next: {prediction.advice.text}")
    print("\nSeating")
    for line in seating(prediction, card):
        print(f"  {line}")
    print("\nCautions")
    for caution in prediction.cautions:
        print(f"  - {caution}")


def seating(prediction: predictions_pb2.Prediction, card: models_pb2.Card) -> list[str]:
    """Readings and slots of the condition that speak of seating, as the model names them."""

    def speaks_of_it(field) -> bool:
        return "seat" in f"{field.name} {field.label}".lower()

    lines = []
    for reading in prediction.readings:
        if "seat" in f"{reading.reading} {reading.label}".lower():
            q, unit = reading.now, unit_text(reading.unit)
            lines.append(f"{reading.label}: {q.p50:.3g} ({q.p05:.3g} to {q.p95:.3g}){unit}")
    for slot in filter(speaks_of_it, card.condition):
        if slot.name in prediction.provenance.condition:
            value = prediction.provenance.condition[slot.name]
            lines.append(f"{slot.label}: {value:.3g}{unit_text(slot.unit)} in the condition")
    return lines or ["this model does not tell"]


def assess_seating(channel: grpc.Channel, options: argparse.Namespace, call: dict) -> None:
    """Asks whether the rings are seated, from the blow-by so far."""
    pulls = [
        running_in_pb2.BreakInPull(
            blow_by_m3_s=flow * M3_S_PER_L_MIN,
            blow_by_pressure_pa=1e5,
            blow_by_temp_k=300.0,
        )
        for flow in options.blow_by
    ]
    request = running_in_pb2.AssessSeatingRequest(
        component=options.component, profile=options.profile, pulls=pulls
    )
    found = running_in_pb2_grpc.RunningInServiceStub(channel).AssessSeating(request, **call)
    check_seating(found, len(pulls))
    word = running_in_pb2.SeatingDecision.Name(found.decision).removeprefix("SEATING_DECISION_")
    print(f"\nBreak-in: {word.replace('_', ' ')}: {found.reason}")
    for pull_read in found.pulls:
        share, fitted = pull_read.seated_share, pull_read.fitted_blow_by_m3_s
        print(
            f"  pull {pull_read.number:.0f}: {pull_read.blow_by_m3_s / M3_S_PER_L_MIN:.1f} l/min"
            f" (fitted {fitted.p50 / M3_S_PER_L_MIN:.1f}), {share.p50:.0%} seated ({share.p05:.0%} to {share.p95:.0%})"
        )
    for finding in found.findings:
        print(f"  note: {finding.field}: {finding.value}; {finding.remedy}")


def check_seating(found: running_in_pb2.SeatingAssessment, readings: int) -> None:
    """Shares are shares, in order, and every reading is answered."""
    expect(found.decision != running_in_pb2.SEATING_DECISION_UNSPECIFIED, "no decision")
    expect(len(found.pulls) == readings, f"{len(found.pulls)} answers to {readings} readings")
    for q in [found.seated_share, *(pull_read.seated_share for pull_read in found.pulls)]:
        expect(0.0 <= q.p05 <= q.p50 <= q.p95 <= 1.0, f"seated shares {q.p05}, {q.p50}, {q.p95}")
    expect(0.0 <= found.seated_probability <= 1.0, f"a probability of {found.seated_probability}")
    expect(len(found.cautions) > 0, "no cautions with the seating")


def unit_text(unit: str) -> str:
    return "" if unit == "1" else f" {unit}"


def explain(error: grpc.RpcError) -> str:
    """What the server refused, field by field."""
    lines = [f"{error.code().name}: {error.details()}"]
    status = rpc_status.from_call(error)
    for detail in status.details if status else []:
        bad = error_details_pb2.BadRequest()
        if detail.Unpack(bad):
            lines += [f"  {field.field}: {field.description}" for field in bad.field_violations]
    return "\n".join(lines)


def run(options: argparse.Namespace) -> None:
    made = pull.inertia_pull()
    with connect(options) as channel:
        call = {"timeout": CALL_LIMIT_S, "metadata": metadata(options)}
        duty = duty_pb2_grpc.DutyServiceStub(channel)
        answer = duty.RecordDuty(messages(options.unit, start_time(options.start), made), **call)
        check_record(answer.duty_record, made)
        show_record(answer)

        predictions = predictions_pb2_grpc.PredictionServiceStub(channel)
        request = predictions_pb2.PredictRequest(component=options.component, profile=options.profile)
        prediction = predictions.Predict(request, **call)
        check_prediction(prediction, options.component)
        models = models_pb2_grpc.ModelServiceStub(channel)
        name = f"models/{prediction.provenance.model_digest}"
        model = models.GetModel(models_pb2.GetModelRequest(name=name), **call)
        show_prediction(prediction, model.card)
        if options.blow_by:
            assess_seating(channel, options, call)


def main() -> int:
    options = arguments()
    try:
        run(options)
    except grpc.RpcError as error:
        print(explain(error), file=sys.stderr)
        return 1
    except Wrong as error:
        print(f"the server's answer cannot be: {error}", file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
