//! Reading columns of duty, and turning columns into what a forecast returns.

use crate::contract::{Duty, Table};

impl Duty {
    /// Values of the card's channel `index`, one for each operating point; empty when the card has
    /// no such channel.
    pub fn channel(&self, index: usize) -> &[f64] {
        self.points.get(index).map_or(&[], Vec::as_slice)
    }

    /// Values of field `field` of the card's shock need `index`, one for each shock; empty when
    /// there is none.
    pub fn shock_field(&self, index: usize, field: usize) -> &[f64] {
        let column = self
            .shocks
            .get(index)
            .and_then(|table| table.columns.get(field));
        column.map_or(&[], Vec::as_slice)
    }

    /// How many shocks of the card's shock need `index` there were.
    pub fn shock_count(&self, index: usize) -> usize {
        self.shocks.get(index).map_or(0, Table::rows)
    }
}

impl Table {
    /// Number of rows: the length of the shortest column.
    pub fn rows(&self) -> usize {
        self.columns.iter().map(Vec::len).min().unwrap_or(0)
    }
}

/// Shares of a whole: amounts (0 or more, finite) over their sum. All 0 when the sum is 0, as a
/// forecast must return them for an event that adds nothing. Point and shock shares together add
/// up to 1: put both into one slice and split the answer.
pub fn shares(amounts: &[f64]) -> Vec<f64> {
    let total: f64 = amounts.iter().sum();
    if total > 0.0 {
        amounts.iter().map(|amount| amount / total).collect()
    } else {
        vec![0.0; amounts.len()]
    }
}

/// The `p` quantile (0 to 1) of values, by linear interpolation between order statistics
/// (definition 7 of Hyndman and Fan, The American Statistician 50, 1996). Sorts `values`. `None`
/// when there are none.
pub fn quantile(values: &mut [f64], p: f64) -> Option<f64> {
    values.sort_by(f64::total_cmp);
    let last = values.len().checked_sub(1)?;
    let place = p.clamp(0.0, 1.0) * last as f64;
    let below = place.floor() as usize;
    let low = values.get(below)?;
    let high = values.get((below + 1).min(last))?;
    Some(low + (high - low) * (place - place.floor()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shares_add_up_to_one_or_are_all_zero() {
        assert_eq!(shares(&[1.0, 3.0]), [0.25, 0.75]);
        assert_eq!(shares(&[0.0, 0.0]), [0.0, 0.0]);
        assert!(shares(&[]).is_empty());
    }

    /// Values of the R function `quantile` (type 7) for 1, 2, 4, 8: from memory of its definition.
    #[test]
    fn quantiles_interpolate_between_order_statistics() {
        let mut values = [8.0, 1.0, 4.0, 2.0];
        assert_eq!(quantile(&mut values, 0.0), Some(1.0));
        assert_eq!(quantile(&mut values, 0.5), Some(3.0));
        assert_eq!(quantile(&mut values, 0.25), Some(1.75));
        assert_eq!(quantile(&mut values, 1.0), Some(8.0));
        assert_eq!(quantile(&mut [], 0.5), None);
    }

    #[test]
    fn a_missing_column_reads_as_empty() {
        let duty = Duty {
            duration_s: 1.0,
            time_s: vec![1.0],
            points: vec![vec![2.0]],
            cycles: vec![],
            shocks: vec![Table {
                columns: vec![vec![1.0, 2.0], vec![3.0, 4.0]],
            }],
            mates: vec![],
        };
        assert_eq!(duty.channel(0), [2.0]);
        assert!(duty.channel(1).is_empty());
        assert_eq!(duty.shock_field(0, 1), [3.0, 4.0]);
        assert!(duty.shock_field(0, 2).is_empty());
        assert_eq!((duty.shock_count(0), duty.shock_count(1)), (2, 0));
    }
}
