//! What an event costs, and whether the dearer alternative pays.

use super::paired::{Range, mean, odds, quantiles_of};
use crate::{EventCost, Payback, RenewalPrice};

/// Prices and lives of an alternative.
pub(crate) struct Priced<'a> {
    pub(crate) renewal_price: f64,
    pub(crate) treatments_price: f64,
    pub(crate) lives: &'a [Range],
}

impl<'a> Priced<'a> {
    /// Part, labour and treatments.
    pub(crate) fn new(price: RenewalPrice, treatments_price: f64, lives: &'a [Range]) -> Self {
        Self {
            renewal_price: price.part + price.labour + treatments_price,
            treatments_price,
            lives,
        }
    }

    fn drawn(&self) -> Vec<Range> {
        let lives = self.lives.iter();
        lives.map(|life| life.cost_of(self.renewal_price)).collect()
    }

    /// Long-run cost of renewals: price over mean life (renewal reward theorem; Barlow and Proschan, "Mathematical
    /// Theory of Reliability", 1965).
    fn mean(&self) -> Range {
        mean(self.lives).cost_of(self.renewal_price)
    }

    pub(crate) fn cost(&self) -> EventCost {
        EventCost {
            renewal_price: self.renewal_price,
            treatments_price: self.treatments_price,
            mean: self.mean().bounds(),
            drawn: quantiles_of(&self.drawn()),
        }
    }
}

/// Whether the second costs less for each event; `ratios` are its lives over those of the first.
pub(crate) fn payback(first: &Priced<'_>, second: &Priced<'_>, ratios: &[Range]) -> Payback {
    let dearer = odds(&first.drawn(), &second.drawn(), false);
    // The price at which renewal over life is that of the first: first price times ratio, less what is not treatment.
    let untreated = second.renewal_price - second.treatments_price;
    let break_even = |ratio: Range| ratio.scaled(first.renewal_price, -untreated);
    let drawn: Vec<Range> = ratios.iter().map(|ratio| break_even(*ratio)).collect();
    Payback {
        cost_change: (second.mean() - first.mean()).bounds(),
        probability_pays: dearer.less,
        probability_open: dearer.open,
        break_even_price: break_even(mean(second.lives).over(mean(first.lives))).bounds(),
        break_even_drawn: quantiles_of(&drawn),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn known(lives: &[f64]) -> Vec<Range> {
        lives.iter().map(|life| Range::known(*life)).collect()
    }

    /// Worked by hand: 100 over a mean of 5 against 130 over one of 10; twice the life is worth the price once more.
    #[test]
    fn twice_the_life_is_worth_the_price_once_more() {
        let (short, long) = (known(&[4.0, 6.0]), known(&[8.0, 12.0]));
        let price = RenewalPrice {
            part: 70.0,
            labour: 30.0,
        };
        let first = Priced::new(price, 0.0, &short);
        let second = Priced::new(price, 30.0, &long);
        assert_eq!(first.cost().mean.at_most, Some(20.0));
        assert_eq!(second.cost().mean.at_least, Some(13.0));
        let ratios: Vec<Range> = long.iter().zip(&short).map(|(b, a)| b.over(*a)).collect();
        let payback = payback(&first, &second, &ratios);
        assert_eq!(payback.break_even_price.at_most, Some(100.0));
        assert_eq!(payback.break_even_drawn.p05.at_least, Some(100.0));
        assert_eq!(payback.cost_change.at_least, Some(-7.0));
        assert!((payback.probability_pays - 1.0).abs() < 1e-12);
    }

    #[test]
    fn a_mean_beyond_the_horizon_leaves_the_saving_open() {
        let (short, long) = (known(&[5.0]), vec![Range::life(50.0, 50.0)]);
        let price = RenewalPrice {
            part: 100.0,
            labour: 0.0,
        };
        let (first, second) = (
            Priced::new(price, 0.0, &short),
            Priced::new(price, 50.0, &long),
        );
        let ratios = [long[0].over(short[0])];
        let payback = payback(&first, &second, &ratios);
        // At most 3 for each event instead of 20.
        assert_eq!(payback.cost_change.at_most, Some(-17.0));
        assert_eq!(payback.cost_change.at_least, None);
        assert_eq!(payback.break_even_price.at_least, Some(900.0));
        assert!((payback.probability_pays - 1.0).abs() < 1e-12);
    }
}
