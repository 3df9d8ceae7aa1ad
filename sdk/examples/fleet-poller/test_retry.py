"""Checks of retry.py against a server that refuses: python -m unittest."""

import concurrent.futures
import unittest

import grpc
from google.protobuf import any_pb2, duration_pb2
from google.rpc import error_details_pb2, status_pb2
from grpc_status import rpc_status

import retry


def refusal(code: grpc.StatusCode, *details):
    """What a server sends with this code and these details."""
    packed = []
    for detail in details:
        message = any_pb2.Any()
        message.Pack(detail)
        packed.append(message)
    return rpc_status.to_status(
        status_pb2.Status(code=code.value[0], message="refused", details=packed)
    )


class Refusing(grpc.GenericRpcHandler):
    """Refuses so many calls, then answers."""

    def __init__(self, refusals):
        self.refusals = list(refusals)
        self.calls = 0

    def service(self, _details):
        def answer(_request, context):
            self.calls += 1
            if self.refusals:
                context.abort_with_status(self.refusals.pop(0))
            return b"answer"

        return grpc.unary_unary_rpc_method_handler(answer)


class Retry(unittest.TestCase):
    def calls(self, refusals, tries=4):
        """The answer, the waits and how often the server was called."""
        handler = Refusing(refusals)
        server = grpc.server(concurrent.futures.ThreadPoolExecutor(1), handlers=[handler])
        port = server.add_insecure_port("127.0.0.1:0")
        server.start()
        waits = []
        try:
            with grpc.insecure_channel(f"127.0.0.1:{port}") as channel:
                method = channel.unary_unary("/test/Method")
                answer = retry.with_retry(lambda: method(b"", timeout=20), tries, waits.append)
                return answer, waits, handler.calls
        except grpc.RpcError as error:
            return error.code(), waits, handler.calls
        finally:
            server.stop(None)

    def test_the_wait_that_the_server_asks_for_is_honoured(self):
        info = error_details_pb2.RetryInfo(retry_delay=duration_pb2.Duration(nanos=250_000_000))
        busy = refusal(grpc.StatusCode.RESOURCE_EXHAUSTED, info)
        self.assertEqual(self.calls([busy, busy]), (b"answer", [0.25, 0.25], 3))

    def test_without_one_the_wait_doubles(self):
        down = refusal(grpc.StatusCode.UNAVAILABLE)
        answer, waits, calls = self.calls([down] * 3)
        self.assertEqual((answer, calls), (b"answer", 4))
        for wait, most in zip(waits, [0.5, 1.0, 2.0]):
            self.assertTrue(0.5 * most <= wait <= most, f"{wait} of {most}")

    def test_refused_input_and_what_is_too_large_are_not_sent_again(self):
        wrong = refusal(grpc.StatusCode.INVALID_ARGUMENT)
        self.assertEqual(self.calls([wrong]), (grpc.StatusCode.INVALID_ARGUMENT, [], 1))
        large = error_details_pb2.ErrorInfo(reason="TOO_LARGE", domain="ringland")
        large = refusal(grpc.StatusCode.RESOURCE_EXHAUSTED, large)
        self.assertEqual(self.calls([large]), (grpc.StatusCode.RESOURCE_EXHAUSTED, [], 1))

    def test_tries_end(self):
        down = refusal(grpc.StatusCode.UNAVAILABLE)
        code, waits, calls = self.calls([down] * 9, tries=3)
        self.assertEqual((code, len(waits), calls), (grpc.StatusCode.UNAVAILABLE, 2, 3))


if __name__ == "__main__":
    unittest.main()
