//! Times, both ways.

use jiff::Timestamp;

const NANOS: i128 = 1_000_000_000;

/// To a message: whole seconds rounded down, nanoseconds counted upwards, before 1970 as well.
pub fn to_message(time: Timestamp) -> prost_types::Timestamp {
    let nanos = time.as_nanosecond();
    prost_types::Timestamp {
        seconds: nanos.div_euclid(NANOS) as i64,
        nanos: nanos.rem_euclid(NANOS) as i32,
    }
}

/// From a message; `None` when it is none of the years 1 to 9999 or its nanoseconds are out of range
/// (the well-known type's own limits).
pub fn from_message(time: prost_types::Timestamp) -> Option<Timestamp> {
    const YEAR_1: i64 = -62_135_596_800;
    if time.seconds < YEAR_1 || !(0..1_000_000_000).contains(&time.nanos) {
        return None;
    }
    Timestamp::from_nanosecond(i128::from(time.seconds) * NANOS + i128::from(time.nanos)).ok()
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    /// 1 BCE is outside; RFC 3339's first and last second are inside.
    #[test]
    fn limits_of_the_well_known_type() {
        let at = |seconds, nanos| from_message(prost_types::Timestamp { seconds, nanos });
        assert_eq!(
            at(-62_135_596_800, 0).unwrap().to_string(),
            "0001-01-01T00:00:00Z"
        );
        assert!(at(-62_135_596_801, 0).is_none());
        assert!(at(253_402_300_800, 0).is_none());
        assert!(at(0, -1).is_none() && at(0, 1_000_000_000).is_none());
    }

    proptest! {
        #[test]
        fn a_time_comes_back_as_it_went(
            seconds in -62_135_596_800_i64..253_402_200_000, nanos in 0..1_000_000_000_i32,
        ) {
            let message = prost_types::Timestamp { seconds, nanos };
            prop_assert_eq!(to_message(from_message(message).unwrap()), message);
        }
    }
}
