//! The expected loss of running against that of pulling now.

use super::outlook::any_of;
use crate::{
    ComponentName, RunOrPull, Stakes,
    compare::{Range, mean},
};

/// A part as money sees it.
pub(super) struct Prospect {
    pub(super) component: ComponentName,
    /// Risk in the event of an end that costs the unit.
    pub(super) failure_risk: f64,
    /// The same of a new one in its place.
    pub(super) failure_risk_new: f64,
    /// What replacing it costs; `None` where no price is given.
    pub(super) replace_cost: Option<f64>,
    /// Draw by draw what is left of its life, over the life of a new one.
    pub(super) unused: Vec<Range>,
}

impl Prospect {
    /// What is thrown away by replacing it now: its price by the share of its life that is left.
    fn thrown_away(&self) -> Option<Range> {
        Some(mean(&self.unused).scaled(self.replace_cost?, 0.0))
    }

    /// Whether pulling it alone is expected to lose less than running it, whatever the horizon hides.
    fn is_better_pulled(&self, failure_cost: f64) -> bool {
        self.thrown_away().is_some_and(|thrown| {
            self.failure_risk * failure_cost > thrown.high + self.failure_risk_new * failure_cost
        })
    }
}

/// What is left over what a new one has, neither below nothing nor above all; where both are beyond the horizon, anything
/// between.
pub(super) fn unused_shares(left: &[Range], new: &[Range]) -> Vec<Range> {
    let pairs = left.iter().zip(new);
    pairs
        .map(|(left, new)| {
            let share = left.over(*new);
            Range {
                low: share.low.clamp(0.0, 1.0),
                high: share.high.clamp(0.0, 1.0),
            }
        })
        .collect()
}

/// Weighs running everything against pulling what is better pulled; where nothing is, against pulling the riskiest part
/// that has a price. `None` where no part has a price.
pub(super) fn weigh(
    stakes: &Stakes,
    parts: &[Prospect],
    forced: &[ComponentName],
) -> Option<RunOrPull> {
    let failure = stakes.failure_cost + stakes.unfinished_event_cost;
    let priced = || parts.iter().filter(|part| part.replace_cost.is_some());
    let mut pulled: Vec<&Prospect> = priced()
        .filter(|part| part.is_better_pulled(failure) || forced.contains(&part.component))
        .collect();
    if pulled.is_empty() {
        let risk = |part: &&Prospect| part.failure_risk;
        pulled.extend(priced().max_by(|a, b| risk(a).total_cmp(&risk(b))));
    }
    if pulled.is_empty() {
        return None;
    }
    let is_pulled = |part: &Prospect| pulled.iter().any(|other| other.component == part.component);
    let risk_after = any_of(parts.iter().map(|part| {
        if is_pulled(part) {
            part.failure_risk_new
        } else {
            part.failure_risk
        }
    }));
    let thrown = pulled.iter().filter_map(|part| part.thrown_away());
    let thrown = thrown.fold(Range::known(0.0), |sum, more| Range {
        low: sum.low + more.low,
        high: sum.high + more.high,
    });
    let rest = stakes.missed_event_cost + risk_after * failure;
    Some(RunOrPull {
        run: any_of(parts.iter().map(|part| part.failure_risk)) * failure,
        pull: thrown.scaled(1.0, rest).bounds(),
        thrown_away: thrown.bounds(),
        replaced: pulled.iter().map(|part| part.component.clone()).collect(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeMap;

    fn springs(failure_risk: f64) -> Prospect {
        Prospect {
            component: ComponentName::new("springs").unwrap(),
            failure_risk,
            failure_risk_new: 0.0,
            replace_cost: Some(970.0),
            unused: vec![Range::known(0.12)],
        }
    }

    fn stakes(unfinished_event_cost: f64) -> Stakes {
        Stakes {
            failure_cost: 22_000.0,
            unfinished_event_cost,
            missed_event_cost: 0.0,
            replace_costs: BTreeMap::new(),
        }
    }

    /// A worked example of the invented shop: spring set at damage 0.88, next event +0.25, where damage 1 is the 10 %
    /// life of the set and the Weibull shape is 3. Reliability R = exp(ln(1 - p) D^beta) (Weibull 1951), risk
    /// 1 - R(D + dD)/R(D). The example's 1 694 is the failure alone: 0.077 x 22 000, without the event that is not finished
    /// (4 500), which makes it 2 043 by the risk unrounded; and the 12 % of life that is left of 970 are 116.
    #[test]
    fn the_spring_set_of_the_worked_example_is_changed() {
        let hazard = |damage: f64| -0.9_f64.ln() * damage.powi(3);
        let risk = 1.0 - (hazard(0.88) - hazard(1.13)).exp();
        assert!((risk - 0.077).abs() < 0.0005, "{risk}");
        let failure_alone = weigh(&stakes(0.0), &[springs(0.077)], &[]).unwrap();
        assert!((failure_alone.run - 1694.0).abs() < 1e-9);
        let both = weigh(&stakes(4_500.0), &[springs(risk)], &[]).unwrap();
        assert!((both.run - 2043.0).abs() < 1.0, "{}", both.run);
        let thrown = both.pull.at_most.unwrap();
        assert!((thrown - 116.4).abs() < 1e-9, "{thrown}");
        assert!(both.run > thrown, "change");
    }

    /// By hand: two parts at 10 % and 20 %, the second pulled for 50 of 100: 0.28 x 1000 against 50 + 0.1 x 1000.
    #[test]
    fn what_stays_keeps_its_risk() {
        let part = |id: &str, risk, cost| Prospect {
            component: ComponentName::new(id).unwrap(),
            replace_cost: Some(cost),
            unused: vec![Range::known(0.5)],
            ..springs(risk)
        };
        let parts = [part("a", 0.1, 900.0), part("b", 0.2, 100.0)];
        let stakes = Stakes {
            failure_cost: 1000.0,
            ..Stakes::default()
        };
        let found = weigh(&stakes, &parts, &[]).unwrap();
        assert!((found.run - 280.0).abs() < 1e-9);
        assert!((found.pull.at_least.unwrap() - 150.0).abs() < 1e-9);
        assert_eq!(found.replaced, [ComponentName::new("b").unwrap()]);
    }

    #[test]
    fn shares_that_the_horizon_hides_are_between_nothing_and_all() {
        let beyond = Range::life(50.0, 50.0);
        let shares = unused_shares(
            &[beyond, Range::known(6.0), Range::known(3.0)],
            &[beyond, Range::known(4.0), Range::known(4.0)],
        );
        assert_eq!(
            shares[0],
            Range {
                low: 0.0,
                high: 1.0
            }
        );
        assert_eq!(shares[1], Range::known(1.0));
        assert_eq!(shares[2], Range::known(0.75));
    }
}
