//! How long a call may take.

use http::HeaderMap;
use std::time::Duration;

/// The transport has a timer of its own on `grpc-timeout` which ends the call as `CANCELLED`; the
/// answer is given this much earlier so that it is `DEADLINE_EXCEEDED`, as the standard codes say.
const AHEAD: Duration = Duration::from_millis(2);

/// Calls that take as long as their input is, or do the work of many.
const LONG: [&str; 11] = [
    "ringland.v1.ComparisonService/Compare",
    "ringland.v1.ComparisonService/CompareUnit",
    "ringland.v1.DutyService/RecordDuty",
    "ringland.v1.ModelService/InstallModel",
    "ringland.v1.PlanService/MakePlan",
    "ringland.v1.PredictionService/BatchPredict",
    "ringland.v1.QuestionService/AskOneMoreEvent",
    "ringland.v1.QuestionService/AskOverRevCost",
    "ringland.v1.QuestionService/AskPartMove",
    "ringland.v1.QuestionService/AskSpare",
    "ringland.v1.QuestionService/AskSpeedChange",
];

/// The server's own limits.
#[derive(Clone, Copy)]
pub(super) struct Deadlines {
    pub call: Duration,
    pub stream: Duration,
}

impl Deadlines {
    /// Time until the response must have begun: the caller's deadline or the server's own limit,
    /// whichever is shorter.
    pub fn of(&self, method: &str, headers: &HeaderMap) -> Duration {
        let own = if LONG.contains(&method) {
            self.stream
        } else {
            self.call
        };
        match grpc_timeout(headers) {
            Some(asked) => own.min(asked.saturating_sub(AHEAD)),
            None => own,
        }
    }
}

/// `grpc-timeout`: one to eight digits and a unit (gRPC over HTTP/2, Requests). What is malformed
/// is ignored here as the transport ignores it.
fn grpc_timeout(headers: &HeaderMap) -> Option<Duration> {
    let text = headers.get("grpc-timeout")?.to_str().ok()?;
    let (digits, unit) = text.split_at_checked(text.len().checked_sub(1)?)?;
    if !(1..=8).contains(&digits.len()) || !digits.bytes().all(|b| b.is_ascii_digit()) {
        return None;
    }
    let count: u64 = digits.parse().ok()?;
    Some(match unit {
        "H" => Duration::from_secs(count * 3600),
        "M" => Duration::from_secs(count * 60),
        "S" => Duration::from_secs(count),
        "m" => Duration::from_millis(count),
        "u" => Duration::from_micros(count),
        "n" => Duration::from_nanos(count),
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use http::HeaderValue;

    fn limit(method: &str, timeout: Option<&'static str>) -> Duration {
        let mut headers = HeaderMap::new();
        if let Some(text) = timeout {
            headers.insert("grpc-timeout", HeaderValue::from_static(text));
        }
        let deadlines = Deadlines {
            call: Duration::from_secs(30),
            stream: Duration::from_mins(10),
        };
        deadlines.of(method, &headers)
    }

    /// Units and the eight digits: gRPC over HTTP/2, "Timeout".
    #[test]
    fn the_shorter_of_both_limits_holds() {
        let plain = "ringland.v1.UnitService/GetUnit";
        let second = Duration::from_secs(1);
        assert_eq!(limit(plain, None), 30 * second);
        assert_eq!(limit(LONG[0], None), 600 * second);
        // A whole engine over many profiles draws the lives of all of its parts for each.
        assert_eq!(
            limit("ringland.v1.PlanService/MakePlan", None),
            600 * second
        );
        assert_eq!(limit(plain, Some("10S")) + AHEAD, 10 * second);
        assert_eq!(limit(plain, Some("99999999H")), 30 * second);
        assert_eq!(limit(LONG[0], Some("1M")) + AHEAD, 60 * second);
        assert_eq!(limit(plain, Some("5u")), Duration::ZERO);
        for malformed in ["", "S", "10", "-1S", "999999999S", "1.5S"] {
            assert_eq!(limit(plain, Some(malformed)), 30 * second, "{malformed:?}");
        }
    }
}
