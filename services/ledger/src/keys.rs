//! Keys of rows: parts joined by a zero byte (no name contains one), times as bytes that sort.

use crate::{FieldViolation, LedgerError};
use jiff::Timestamp;

/// Bytes of a time in a key.
pub(crate) const TIME_BYTES: usize = 12;

/// Parts joined by zero bytes, with one at the end: also the prefix of everything below it.
pub(crate) fn prefix(parts: &[&str]) -> Vec<u8> {
    let mut key = Vec::new();
    for part in parts {
        key.extend_from_slice(part.as_bytes());
        key.push(0);
    }
    key
}

/// A prefix followed by a tail of bytes.
pub(crate) fn with(parts: &[&str], tail: &[u8]) -> Vec<u8> {
    let mut key = prefix(parts);
    key.extend_from_slice(tail);
    key
}

/// A time as bytes in the order of time.
pub(crate) fn time(time: Timestamp) -> [u8; TIME_BYTES] {
    let nanos = time.as_nanosecond();
    let seconds = nanos.div_euclid(1_000_000_000) as i64;
    let rest = nanos.rem_euclid(1_000_000_000) as u32;
    let mut bytes = [0; TIME_BYTES];
    let (head, tail) = bytes.split_at_mut(8);
    // With the sign bit turned over, negative seconds sort before positive ones.
    head.copy_from_slice(&(seconds.cast_unsigned() ^ (1 << 63)).to_be_bytes());
    tail.copy_from_slice(&rest.to_be_bytes());
    bytes
}

/// The time that [`time()`] made these bytes of.
pub(crate) fn time_of(bytes: &[u8]) -> Option<Timestamp> {
    let seconds = u64::from_be_bytes(bytes.get(..8)?.try_into().ok()?) ^ (1 << 63);
    let rest = u32::from_be_bytes(bytes.get(8..TIME_BYTES)?.try_into().ok()?);
    let nanos = i128::from(seconds.cast_signed()) * 1_000_000_000 + i128::from(rest);
    Timestamp::from_nanosecond(nanos).ok()
}

/// A time as the last part of a name: `20260418t093000z`, with nanoseconds if it has any.
pub(crate) fn time_id(time: Timestamp) -> String {
    let seconds = time.strftime("%Y%m%dt%H%M%S");
    match time.as_nanosecond().rem_euclid(1_000_000_000) {
        0 => format!("{seconds}z"),
        nanos => format!("{seconds}-{nanos:09}z"),
    }
}

/// The time that [`time_id`] made this of.
pub(crate) fn time_of_id(id: &str) -> Option<Timestamp> {
    let body = id.strip_suffix('z')?;
    let (seconds, nanos) = body.split_once('-').unwrap_or((body, "0"));
    let part = |from: usize, to: usize| seconds.get(from..to);
    let text = format!(
        "{}-{}-{}T{}:{}:{}.{nanos}Z",
        part(0, 4)?,
        part(4, 6)?,
        part(6, 8)?,
        part(9, 11)?,
        part(11, 13)?,
        part(13, 15)?,
    );
    let time: Timestamp = text.parse().ok()?;
    // One spelling of a name only.
    (time_id(time) == id).then_some(time)
}

/// Checks that a time can be that of a part in use.
pub(crate) fn check_time(field: &str, time: Timestamp) -> Result<(), LedgerError> {
    // 1900-01-01 and 2200-01-01 in seconds since 1970.
    if (-2_208_988_800..7_258_118_400).contains(&time.as_second()) {
        return Ok(());
    }
    Err(LedgerError::invalid(FieldViolation::new(
        field,
        &time.to_string(),
        "a time from 1900 to 2199",
        "correct the clock or the unit of the time",
    )))
}

/// A time that a call must give.
pub(crate) fn required_time(
    field: &str,
    time: Option<Timestamp>,
) -> Result<Timestamp, LedgerError> {
    let time = time.ok_or_else(|| {
        LedgerError::invalid(FieldViolation::new(
            field,
            "not set",
            "a time",
            "give it: nothing is assumed to have happened now",
        ))
    })?;
    check_time(field, time)?;
    Ok(time)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn keys_sort_as_times_do(a in -3_000_000_000_000_000_000i64..7_000_000_000_000_000_000, b in -3_000_000_000_000_000_000i64..7_000_000_000_000_000_000) {
            let at = |nanos: i64| Timestamp::from_nanosecond(i128::from(nanos)).unwrap();
            prop_assert_eq!(time(at(a)).cmp(&time(at(b))), a.cmp(&b));
        }

        #[test]
        fn a_time_id_gives_its_time_back(nanos in -2_208_988_800_000_000_000i64..7_258_118_400_000_000_000) {
            let at = Timestamp::from_nanosecond(i128::from(nanos)).unwrap();
            prop_assert_eq!(time_of_id(&time_id(at)), Some(at));
            prop_assert_eq!(time_of(&time(at)), Some(at));
            prop_assert!(crate::is_id(&time_id(at)));
        }
    }

    #[test]
    fn a_nanosecond_before_1970_has_an_id() {
        let at = Timestamp::from_nanosecond(-1).unwrap();
        assert_eq!(time_id(at), "19691231t235959-999999999z");
        assert_eq!(time_of_id(&time_id(at)), Some(at));
    }

    #[test]
    fn other_texts_are_no_time_ids() {
        for id in [
            "",
            "z",
            "20260418t093000",
            "20261318t093000z",
            "20260418x093000z",
            "20260418t093000-0z",
            "20260418t093000-000000000z",
        ] {
            assert_eq!(time_of_id(id), None, "{id}");
        }
        assert_eq!(
            time_id("2026-04-18T09:30:00Z".parse().unwrap()),
            "20260418t093000z"
        );
    }
}
