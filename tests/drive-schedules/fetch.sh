#!/usr/bin/env bash
# Fetches published drive schedules (speed over time) as input that nobody here wrote, and prints the
# folder. They come as data files of the Python package fastsim 2.1.5 (Apache-2.0); nothing of it is run.
#   RINGLAND_DRIVE_SCHEDULES=$(tests/drive-schedules/fetch.sh) cargo test -p ringland-tests --test drive_schedules
set -euo pipefail
cd "$(dirname "$0")/../.."

folder=$PWD/target/drive-schedules
wheel=fastsim-2.1.5-cp311-cp311-manylinux_2_17_x86_64.manylinux2014_x86_64.whl
sha256=420c98878f29bc48bf7ac94402bc6ecaa312146a6df49c12c8906a94fe68a543
schedules=(udds hwfet us06 wltc_3b longHaulDriveCycle)

mkdir -p "$folder"
present() { echo "$sha256  $folder/$wheel" | sha256sum --check --status 2>/dev/null; }
if ! present; then
    # The platform is named so that every machine gets the same file.
    "${RINGLAND_PYTHON:-python3}" -m pip download --quiet --no-deps --only-binary :all: --python-version 3.11 \
        --platform manylinux2014_x86_64 --dest "$folder" fastsim==2.1.5 >&2
    present || {
        echo "fetch.sh: $folder/$wheel does not have the expected SHA-256 $sha256: delete it and try again" >&2
        exit 1
    }
fi
for schedule in "${schedules[@]}"; do
    "${RINGLAND_PYTHON:-python3}" - "$folder/$wheel" "fastsim/resources/cycles/$schedule.csv" "$folder/$schedule.csv" <<'PYTHON'
import sys, zipfile
wheel, member, out = sys.argv[1:]
with open(out, "wb") as file:
    file.write(zipfile.ZipFile(wheel).read(member))
PYTHON
done
echo "$folder"
