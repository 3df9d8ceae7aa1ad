//! Units that come to their limits event by event, and what a spare on the shelf saves.

/// The season to come.
pub(super) struct Season {
    /// Day of each event, rising.
    pub(super) days: Vec<f64>,
    pub(super) lead_days: f64,
}

impl Season {
    /// The event in which a life ends, by index; `None` beyond the last.
    pub(super) fn event_of(&self, life_events: f64) -> Option<usize> {
        let event = libm::ceil(life_events).max(1.0) as usize - 1;
        (event < self.days.len()).then_some(event)
    }

    /// Events that units miss until another is fitted, one drawn season. `ends` has the event of each unit's end; the
    /// event of the end itself is lost with a spare or without, and not counted. A spare is there from an event on, and is
    /// ordered anew when it is used; without one each is ordered when it is needed.
    pub(super) fn missed(&self, ends: &[Option<usize>], spare_from: Option<usize>) -> usize {
        let mut in_order: Vec<usize> = ends.iter().copied().flatten().collect();
        in_order.sort_unstable();
        let day = |event: usize| self.days.get(event).copied().unwrap_or(f64::INFINITY);
        let mut shelf = spare_from.map(day);
        let mut missed = 0;
        for event in in_order {
            let ended = day(event);
            let ordered = ended + self.lead_days;
            let ready = match shelf {
                Some(there) if there.max(ended) <= ordered => {
                    shelf = Some(ordered);
                    there.max(ended)
                }
                _ => ordered,
            };
            let later = self.days.iter().skip(event + 1);
            missed += later.filter(|day| **day < ready).count();
        }
        missed
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn season() -> Season {
        Season {
            days: vec![0.0, 14.0, 28.0, 42.0],
            lead_days: 30.0,
        }
    }

    /// By hand: an end in the first event is mended on day 30, so days 14 and 28 are missed; with a spare none is.
    #[test]
    fn a_spare_saves_the_events_until_another_comes() {
        let season = season();
        assert_eq!(season.missed(&[Some(0)], None), 2);
        assert_eq!(season.missed(&[Some(0)], Some(0)), 0);
        // There from day 14 on: that event is run.
        assert_eq!(season.missed(&[Some(0)], Some(1)), 0);
        assert_eq!(season.missed(&[Some(0)], Some(2)), 1);
        // The second of two finds the shelf empty until day 30.
        assert_eq!(season.missed(&[Some(0), Some(0)], Some(0)), 2);
        assert_eq!(season.missed(&[None, Some(3)], None), 0);
    }

    #[test]
    fn lives_end_in_the_event_that_they_do_not_survive() {
        let season = season();
        let events = [0.0, 0.4, 1.0, 1.2, 4.0, 4.1].map(|life| season.event_of(life));
        let expected = [Some(0), Some(0), Some(0), Some(1), Some(3), None];
        assert_eq!(events, expected);
    }

    proptest! {
        #[test]
        fn an_earlier_spare_never_misses_more(
            ends in proptest::collection::vec(proptest::option::of(0usize..10), 1..6),
            lead in 0.0..90.0f64, from in 0usize..9,
        ) {
            let season = Season { days: (0..10).map(|i| 14.0 * f64::from(i)).collect(), lead_days: lead };
            let missed = |from| season.missed(&ends, from);
            prop_assert!(missed(Some(from)) <= missed(Some(from + 1)));
            prop_assert!(missed(Some(from + 1)) <= missed(None));
        }
    }
}
