//! From drawn lives to the ends of a part in one event after another.

use super::program::{CAPPED, Spell, SpellEvent};
use crate::predict::quantile;
use ringland_host::contract::{Consequence, MechanismLife};
use ringland_mechanics::statistics::normal;

/// Classes of consequence, in their order.
pub(super) const CLASSES: usize = 4;

/// A part as it was drawn, by one duty after another.
#[derive(Clone, Debug, Default)]
pub(super) struct DrawnPart {
    /// Of each mechanism.
    pub(super) consequences: Vec<Consequence>,
    /// By duty, then mechanism: lives, and the risk of one whole event.
    pub(super) by_duty: Vec<Vec<MechanismLife>>,
}

/// An event of a part.
#[derive(Clone, Copy, Debug)]
pub(super) struct Use {
    /// Which duty.
    pub(super) duty: usize,
    /// How many events of it.
    pub(super) severity: f64,
    /// What an end costs, by class.
    pub(super) costs: [f64; CLASSES],
}

/// What a drawn part has used of the life of its fastest mechanism, and which that is.
#[derive(Clone, Copy, Debug, Default)]
struct Used {
    share: f64,
    class: usize,
}

pub(super) fn class_of(consequence: Consequence) -> usize {
    match consequence {
        Consequence::Nuisance => 0,
        Consequence::PowerLoss => 1,
        Consequence::UnitLoss => 2,
        Consequence::Hazard => 3,
    }
}

impl DrawnPart {
    fn draws(&self) -> usize {
        let lives = self
            .by_duty
            .iter()
            .flatten()
            .map(|life| life.lives_events.len());
        lives.min().unwrap_or(0)
    }

    /// Shares of life used by each drawn part, event by event, by the mechanism that has used most; of one mechanism, or of
    /// all.
    fn used(&self, uses: &[Use], only: Option<usize>) -> Vec<Vec<Used>> {
        let count = self.consequences.len();
        let mechanisms: Vec<usize> = (0..count)
            .filter(|m| only.is_none_or(|only| only == *m))
            .collect();
        let draw_of = |draw: usize| {
            let mut sums = vec![0.0; count];
            let step = |event: &Use| {
                let mut most = Used::default();
                for mechanism in &mechanisms {
                    let lives = self
                        .by_duty
                        .get(event.duty)
                        .and_then(|duty| duty.get(*mechanism));
                    let life = lives.and_then(|life| life.lives_events.get(draw));
                    let life = life.copied().unwrap_or(f64::INFINITY);
                    // A life of 0 is over before the event begins.
                    sums[*mechanism] += event.severity / life;
                    if sums[*mechanism] > most.share {
                        let class = class_of(self.consequences[*mechanism]);
                        most = Used {
                            share: sums[*mechanism],
                            class,
                        };
                    }
                }
                most
            };
            uses.iter().map(step).collect()
        };
        (0..self.draws()).map(draw_of).collect()
    }

    /// Risk of one whole event of a duty by class, as the models tell it: exact for the first event, where the draws
    /// resolve no small risk.
    fn told(&self, duty: usize) -> [f64; CLASSES] {
        let mut survival = [1.0; CLASSES];
        let lives = self.by_duty.get(duty).into_iter().flatten();
        for (consequence, life) in self.consequences.iter().zip(lives) {
            survival[class_of(*consequence)] *= 1.0 - life.risk_next_event;
        }
        survival.map(|survival| (1.0 - survival).clamp(0.0, 1.0))
    }

    /// What the part does over these events from the first on.
    pub(super) fn spell(&self, uses: &[Use]) -> Spell {
        let used = self.used(uses, None);
        let width = width_of(&used);
        let mut ends = ends_of(&used, width, uses.len());
        if let (Some(first), Some(event)) = (ends.first_mut(), uses.first()) {
            let told = self.told(event.duty);
            for (end, told) in first.iter_mut().zip(told) {
                let risk = -libm::expm1(event.severity * libm::log1p(-told));
                *end = end.max(risk);
            }
        }
        let mut alive = 1.0;
        let mut events = Vec::with_capacity(uses.len());
        for (index, (event, ends)) in uses.iter().zip(ends).enumerate() {
            let any: f64 = ends.iter().sum();
            let scale = if any > alive { alive / any } else { 1.0 };
            let ends = ends.map(|end| end * scale);
            let given = |end: f64| hazard_of(if alive > 0.0 { end / alive } else { 1.0 });
            let mut shares: Vec<f64> = used
                .iter()
                .filter_map(|draw| draw.get(index).map(|used| used.share))
                .collect();
            shares.sort_by(f64::total_cmp);
            events.push(SpellEvent {
                cost: ends
                    .iter()
                    .zip(event.costs)
                    .map(|(end, cost)| end * cost)
                    .sum(),
                hazard: capped(ends).map(given),
                any_hazard: given(ends.iter().sum()),
                used: [0.1, 0.5, 0.9].map(|p| finite(quantile(&shares, p))),
            });
            alive = (alive - ends.iter().sum::<f64>()).max(0.0);
        }
        Spell { events }
    }

    /// For each drawn part the logarithm of what it uses of its life over all the events, and the expected cost of its end
    /// from the event `from` on; of one mechanism, or of all.
    pub(super) fn outcomes(
        &self,
        uses: &[Use],
        from: usize,
        only: Option<usize>,
    ) -> Vec<(f64, f64)> {
        let used = self.used(uses, only);
        let width = width_of(&used);
        let of_draw = |draw: &Vec<Used>| {
            let mut before = 0.0;
            let mut cost = 0.0;
            for (index, (used, event)) in draw.iter().zip(uses).enumerate() {
                let ended = ended(used.share, width);
                if index >= from {
                    cost += (ended - before) * event.costs[used.class];
                }
                before = ended;
            }
            let share = draw.last().map_or(0.0, |used| used.share);
            (libm::log(share.clamp(1e-9, 1e9)), cost)
        };
        used.iter().map(of_draw).collect()
    }
}

/// Ends in each event by class, as shares of all parts that began.
fn ends_of(used: &[Vec<Used>], width: f64, events: usize) -> Vec<[f64; CLASSES]> {
    let mut ends = vec![[0.0; CLASSES]; events];
    let weight = 1.0 / used.len().max(1) as f64;
    for draw in used {
        let mut before = 0.0;
        for (end, used) in ends.iter_mut().zip(draw) {
            let now = ended(used.share, width);
            end[used.class] += weight * (now - before);
            before = now;
        }
    }
    ends
}

/// Probability that a part like this one has ended by when it has used this share: each drawn life stands for lives about
/// it, spread in the logarithm.
fn ended(share: f64, width: f64) -> f64 {
    if share <= 0.0 {
        return 0.0;
    }
    if width <= 0.0 || share.is_infinite() {
        return if share >= 1.0 { 1.0 } else { 0.0 };
    }
    normal::cdf(libm::log(share) / width)
}

/// Width of the kernel: `0.9 min(sd, IQR / 1.34) n^(-1/5)` (Silverman, Density Estimation for Statistics and Data
/// Analysis, 1986, equation 3.31).
fn width_of(used: &[Vec<Used>]) -> f64 {
    let last = used.iter().filter_map(|draw| draw.last());
    let logs = last.filter(|used| used.share > 0.0 && used.share.is_finite());
    let mut logs: Vec<f64> = logs.map(|used| libm::log(used.share)).collect();
    if logs.len() < 2 {
        return 0.0;
    }
    logs.sort_by(f64::total_cmp);
    let count = logs.len() as f64;
    let mean = logs.iter().sum::<f64>() / count;
    let squares: f64 = logs.iter().map(|x| (x - mean) * (x - mean)).sum();
    let sd = (squares / (count - 1.0)).sqrt();
    let between = (quantile(&logs, 0.75) - quantile(&logs, 0.25)) / 1.34;
    let spread = if between > 0.0 { sd.min(between) } else { sd };
    0.9 * spread * libm::pow(count, -0.2)
}

/// Risks that have a cap, out of those by class.
fn capped(ends: [f64; CLASSES]) -> [f64; CAPPED] {
    let [_, _, unit_loss, hazard] = ends;
    [unit_loss + hazard, hazard]
}

/// A risk as a cumulative hazard, finite also where the end is sure.
fn hazard_of(risk: f64) -> f64 {
    -libm::log1p(-risk.clamp(0.0, 1.0 - 1e-9))
}

/// Of a part that is past its end, however far.
fn finite(share: f64) -> f64 {
    if share.is_finite() {
        share.min(100.0)
    } else {
        100.0
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use ringland_mechanics::statistics::Weibull;

    fn part(lives: Vec<f64>, risk_next_event: f64) -> DrawnPart {
        DrawnPart {
            consequences: vec![Consequence::UnitLoss],
            by_duty: vec![vec![MechanismLife {
                lives_events: lives,
                risk_next_event,
                point_shares: Vec::new(),
                shock_shares: Vec::new(),
            }]],
        }
    }

    fn uses(severities: &[f64]) -> Vec<Use> {
        let of = |severity: &f64| Use {
            duty: 0,
            severity: *severity,
            costs: [0.0, 0.0, 100.0, 0.0],
        };
        severities.iter().map(of).collect()
    }

    fn risk(event: &SpellEvent) -> f64 {
        -libm::expm1(-event.hazard[0])
    }

    /// Lives at the mid-quantiles of a Weibull law: the conditional risks of the events are those of the law,
    /// `1 - R(t + s) / R(t)`, to what the kernel widens.
    #[test]
    fn risks_are_those_of_the_law_that_was_drawn() {
        let law = Weibull::new(3.0, 8.0).unwrap();
        let count = 2048;
        let lives = (0..count).map(|i| law.quantile((f64::from(i) + 0.5) / f64::from(count)));
        let severities = [0.6, 1.0, 1.35, 1.0, 1.2];
        let spell = part(lives.collect(), 0.0).spell(&uses(&severities));
        let mut age = 0.0;
        for (event, severity) in spell.events.iter().zip(severities) {
            let exact = 1.0 - law.survival(age + severity) / law.survival(age);
            age += severity;
            assert!(
                (risk(event) - exact).abs() < 0.003 + 0.08 * exact,
                "{} {exact}",
                risk(event)
            );
        }
    }

    #[test]
    fn one_life_ends_in_the_event_that_uses_it_up() {
        let spell = part(vec![2.5; 4], 0.0).spell(&uses(&[1.0; 4]));
        let risks: Vec<f64> = spell.events.iter().map(risk).collect();
        assert!(
            risks[0] < 1e-12 && risks[1] < 1e-12 && risks[2] > 0.999,
            "{risks:?}"
        );
        assert!((spell.events.iter().map(|e| e.cost).sum::<f64>() - 100.0).abs() < 1e-9);
        assert!((spell.events[1].used[1] - 0.8).abs() < 1e-12);
    }

    #[test]
    fn the_first_event_has_no_less_than_the_risk_that_the_model_tells() {
        let spell = part(vec![50.0; 8], 0.01).spell(&uses(&[0.5, 1.0]));
        assert!((risk(&spell.events[0]) - (1.0 - 0.99_f64.sqrt())).abs() < 1e-12);
        assert!(risk(&spell.events[1]) < 1e-9);
    }

    #[test]
    fn a_life_that_is_over_ends_at_once() {
        let spell = part(vec![0.0; 4], 1.0).spell(&uses(&[1.0, 1.0]));
        assert!(risk(&spell.events[0]) > 0.999_999);
        assert!((spell.events[0].cost - 100.0).abs() < 1e-9);
    }
}
