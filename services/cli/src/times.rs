//! Times as people type and read them. The ledger's times are UTC.

use jiff::{Timestamp, civil::DateTime, tz::TimeZone};

/// Reads `2026-04-18T09:30:00Z`, with any offset; without one, or with a date alone, it is UTC.
///
/// # Errors
/// When it is none of these.
pub fn read(text: &str) -> Result<prost_types::Timestamp, String> {
    let time = text
        .parse::<Timestamp>()
        .or_else(|_| {
            text.parse::<DateTime>()
                .and_then(|civil| TimeZone::UTC.to_timestamp(civil))
        })
        .map_err(|_| {
            format!("{text:?}: expected a time such as 2026-04-18T09:30:00Z or 2026-04-18 (UTC)")
        })?;
    Ok(prost_types::Timestamp {
        seconds: time.as_second(),
        nanos: time.subsec_nanosecond(),
    })
}

/// `2026-04-18 09:30 UTC`, or a dash when it is not set.
pub fn show(time: Option<&prost_types::Timestamp>) -> String {
    let Some(time) = time else { return "-".into() };
    match Timestamp::new(time.seconds, time.nanos) {
        Ok(time) => time.strftime("%Y-%m-%d %H:%M UTC").to_string(),
        Err(_) => format!("{} s since 1970", time.seconds),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn offsets_count_and_utc_is_assumed_without_one() {
        let text = |text| show(Some(&read(text).unwrap()));
        assert_eq!(text("2026-04-18T09:30:00Z"), "2026-04-18 09:30 UTC");
        assert_eq!(text("2026-04-18T09:30:00+02:00"), "2026-04-18 07:30 UTC");
        assert_eq!(text("2026-04-18T09:30"), "2026-04-18 09:30 UTC");
        assert_eq!(text("2026-04-18"), "2026-04-18 00:00 UTC");
        assert_eq!(show(None), "-");
        let error = read("yesterday").unwrap_err();
        assert!(
            error.contains("yesterday") && error.contains("2026-04-18"),
            "{error}"
        );
    }
}
