//! Stop, one more pull, or find the cause.

use super::{
    guards::rise,
    priors::{Kind, Measured},
};
use crate::{Quantiles, SeatingDecision};
use ringland_mechanics::statistics::mixture::NormalMixture;

/// Seated from this share on ... Assumed; below it rings are not judged.
pub(super) const SEATED_SHARE: f64 = 0.95;
/// ... when that is at least this probable. Assumed.
const SURE: f64 = 0.8;
/// A seated level beyond twice what is expected is not accepted (common practice, no source).
const LIMIT_OVER_EXPECTED: f64 = 2.0;
/// Readings before "no fall" means anything.
const ENOUGH_READINGS: usize = 3;
/// A fall by fewer errors of a difference is none.
const SEEN_ERRORS: f64 = 2.0;
/// A level within this of the expected end, that does not fall, is a seated one. Assumed.
const NEAR_END: f64 = 1.25;

/// What the decision is made from.
pub(super) struct Case<'a> {
    pub(super) measured: &'a Measured,
    pub(super) seated_probability: f64,
    pub(super) seated_share: Quantiles,
    pub(super) end: NormalMixture,
    pub(super) next_fall: Quantiles,
    pub(super) resolution: f64,
    pub(super) pulls_to_seated: Quantiles,
    /// Seated level that is expected, if anything is known of it.
    pub(super) expected_end: Option<f64>,
    /// Seated level that is not accepted any more, if told or on the card.
    pub(super) limit: Option<f64>,
}

const CAUSES: &str = "look for glazed bores, a ring upside down or with its gaps in line, oil past the rings, a ring of the \
                      wrong size, before any more pulls";

impl Case<'_> {
    /// The decision with its reason in a sentence.
    pub(super) fn decide(&self) -> (SeatingDecision, String) {
        let what = match self.measured.kind {
            Kind::BlowBy => "blow-by",
            Kind::LeakDown => "leak-down",
        };
        if rise(self.measured).is_some() {
            let text =
                format!("{what} rises from pull to pull, which seating does not do: {CAUSES}");
            return (SeatingDecision::NotSeating, text);
        }
        if let Some(text) = self.stuck_high(what) {
            return (SeatingDecision::NotSeating, text);
        }
        if let Some(decided) = self.no_fall(what) {
            return decided;
        }
        let share = format!(
            "{:.0} % seated ({:.0} to {:.0} %)",
            100.0 * self.seated_share.p50,
            100.0 * self.seated_share.p05,
            100.0 * self.seated_share.p95
        );
        let unseen = self.next_fall.p50 < self.resolution;
        if self.seated_probability >= SURE && unseen {
            let text = format!(
                "{share}, at least 95 % with {:.0} % probability, and the next pull would change {what} by less than the meter \
                 can tell: stop",
                // Certainty is not to be had: 99 is the most that is said.
                (100.0 * self.seated_probability).min(99.0)
            );
            return (SeatingDecision::Stop, text);
        }
        let why = if unseen {
            format!(
                "at least 95 % with only {:.0} % probability ({:.0} % are asked for)",
                100.0 * self.seated_probability,
                100.0 * SURE
            )
        } else {
            format!(
                "the next pull is expected to take {:.1} times the meter's error off {what}",
                self.next_fall.p50 / self.resolution
            )
        };
        let more = self.pulls_to_seated.p50.ceil().max(1.0);
        (
            SeatingDecision::OneMorePull,
            format!("{share}, {why}; about {more:.0} more: one more pull, then read again"),
        )
    }

    /// The end is beyond what is accepted.
    fn stuck_high(&self, what: &str) -> Option<String> {
        let twice = self.expected_end.map(|end| LIMIT_OVER_EXPECTED * end);
        let limit = self.limit.or(twice)?;
        // The meter's common error counts here, where its level is held against one from elsewhere.
        let end = self.end.widened(self.measured.common_sd * limit);
        let past = 1.0 - end.cdf(limit);
        let enough = self.measured.levels.len() >= ENOUGH_READINGS;
        (enough && past >= SURE).then(|| {
            format!("{what} does not end below its limit ({:.0} % probability that it ends above): {CAUSES}", 100.0 * past)
        })
    }

    /// Readings enough, and none shows a fall.
    fn no_fall(&self, what: &str) -> Option<(SeatingDecision, String)> {
        let levels = &self.measured.levels;
        let ((_, first), (_, last)) = (levels.first()?, levels.last()?);
        if levels.len() < ENOUGH_READINGS || first - last > SEEN_ERRORS * self.resolution {
            return None;
        }
        let count = levels.len();
        Some(match self.expected_end {
            Some(end) if *last <= NEAR_END * end => (
                SeatingDecision::Stop,
                format!(
                    "{what} is at its seated level and does not fall over {count} readings: it was seated before; stop"
                ),
            ),
            Some(end) => (
                SeatingDecision::NotSeating,
                format!(
                    "{what} does not fall over {count} readings and is {:.1} times the seated level that is expected: {CAUSES}",
                    last / end
                ),
            ),
            None => (
                SeatingDecision::NotSeating,
                format!(
                    "{what} does not fall over {count} readings: either the rings were seated before, or they do not seat; do not \
                     keep pulling, name a component or the level expected, and {CAUSES}"
                ),
            ),
        })
    }
}
