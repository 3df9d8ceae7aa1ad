"""Makes the gRPC stubs from proto/ into stubs/ beside this file.

Run it by hand, or let the client do it: `ready()` makes them when they are missing or older than
the contract. google.rpc comes from googleapis-common-protos.
"""

import os
import pathlib
import shutil
import sys
import tempfile

HERE = pathlib.Path(__file__).resolve().parent
PROTO = HERE.parents[2] / "proto"
STUBS = HERE / "stubs"


def contract() -> list[pathlib.Path]:
    """The contract's files."""
    files = sorted((PROTO / "ringland" / "v1").glob("*.proto"))
    if not files:
        sys.exit(f"{PROTO}/ringland/v1 has no .proto files: run this from a checkout of Ringland")
    return files


def generate() -> None:
    """Makes the stubs, all of them or none."""
    from grpc_tools import protoc
    import grpc_tools

    included = pathlib.Path(grpc_tools.__file__).parent / "_proto"
    passing = pathlib.Path(tempfile.mkdtemp(prefix="stubs-", dir=HERE))
    try:
        arguments = [
            "protoc",
            f"-I{PROTO}",
            f"-I{included}",
            f"--python_out={passing}",
            f"--grpc_python_out={passing}",
            *(str(file) for file in contract()),
        ]
        if protoc.main(arguments) != 0:
            sys.exit("the stubs cannot be generated; see the messages above")
        (passing / "done").touch()
        shutil.rmtree(STUBS, ignore_errors=True)
        os.replace(passing, STUBS)
    finally:
        shutil.rmtree(passing, ignore_errors=True)


def ready() -> None:
    """Makes sure that the stubs are there and of this contract, and that Python finds them."""
    done = STUBS / "done"
    newest = max(file.stat().st_mtime for file in contract())
    if not done.exists() or done.stat().st_mtime < newest:
        generate()
    sys.path.insert(0, str(STUBS))


if __name__ == "__main__":
    generate()
    print(f"stubs are in {STUBS}")
