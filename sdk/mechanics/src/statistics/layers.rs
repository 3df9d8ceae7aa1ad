//! What observations teach of the effects that add up to what they saw: exact Bayes for a linear
//! model with normal priors and normal errors.
//!
//! y_i = sum over j of a_ij e_j + noise_i, e_j ~ N(0, s_j^2), noise_i ~ N(0, d_i^2), all independent. With
//! u_j = e_j / s_j and b_ij = a_ij s_j / d_i the posterior of u is normal with
//! precision P = I + B'B and mean P^-1 B'(y / d) (Gelman and others, Bayesian Data Analysis, chapters 14 and 15; from
//! memory). P is never below I, so that it is positive definite whatever was observed, and no
//! jitter is ever added.
//!
//! Cost: linear in the observations. Effects that meet few others (what is peculiar to single parts, as a rule)
//! are eliminated one by one, those with the fewest neighbours first; the n left once each meets half of the
//! others take a dense Cholesky factor, n^3 / 3 products, for at most [`MAX_DENSE_EFFECTS`].

use super::correction::Belief;
use super::{StatisticsError, finite};
use std::collections::{BTreeMap, BTreeSet};

/// The most effects of which each meets half of the others.
pub const MAX_DENSE_EFFECTS: usize = 2000;

/// The least noise, as a share of the prior spread of an effect that it observes: below, double precision
/// would no longer tell the posterior from certainty.
pub const MIN_NOISE_SHARE: f64 = 1e-5;

/// One observation of a sum of effects.
#[derive(Clone, Debug, PartialEq)]
pub struct LinearObservation {
    /// What was seen.
    pub value: f64,
    /// Standard deviation of its own error, above 0.
    pub sd: f64,
    /// Index of each effect in it, and by how much it is multiplied.
    pub loads: Vec<(usize, f64)>,
}

/// What is believed of all effects, and of any sum of them.
#[derive(Clone, Debug)]
pub struct Posterior {
    prior_sds: Vec<f64>,
    factor: Factor,
    /// Means over prior spreads.
    means: Vec<f64>,
}

/// An observation over its noise: effects over their prior spreads.
struct Row {
    value: f64,
    loads: BTreeMap<usize, f64>,
}

/// Conditions independent effects with prior mean 0 and these standard deviations (0: known to be 0) on the
/// observations. The answer has the same bits in whatever order they come.
///
/// # Errors
/// A spread that is negative or not finite, a noise not above 0 or below [`MIN_NOISE_SHARE`] of what it
/// observes, a value not finite, a load on an effect that does not exist, too many shared effects.
pub fn condition(
    prior_sds: &[f64],
    observations: &[LinearObservation],
) -> Result<Posterior, StatisticsError> {
    for &sd in prior_sds {
        out_of_range_unless(
            sd.is_finite() && sd >= 0.0,
            "prior sd",
            sd,
            "a finite number from 0",
        )?;
    }
    let rows = observations.iter().map(|seen| row(seen, prior_sds));
    let mut rows = rows.collect::<Result<Vec<Row>, StatisticsError>>()?;
    rows.sort_by(total_order);

    let mut precision = Precision::prior(prior_sds.len());
    let mut pull = vec![0.0; prior_sds.len()];
    for row in &rows {
        precision.add(row);
        for (&effect, load) in &row.loads {
            pull[effect] += load * row.value;
        }
    }
    let factor = precision.factorise()?;
    Ok(Posterior {
        prior_sds: prior_sds.to_vec(),
        means: factor.solve(&pull),
        factor,
    })
}

impl Posterior {
    /// What is believed of a sum of effects, each multiplied by its load. The spread is never above that of
    /// the prior.
    ///
    /// # Errors
    /// A load that is not finite, or on an effect that does not exist.
    pub fn belief(&self, loads: &[(usize, f64)]) -> Result<Belief, StatisticsError> {
        let mut scaled = vec![0.0; self.prior_sds.len()];
        for &(effect, load) in loads {
            let effect = known_effect(effect, &self.prior_sds)?;
            scaled[effect] += finite("load", load)? * self.prior_sds[effect];
        }
        // Rounding must not widen what observations can only narrow.
        let variance = self.factor.variance(&scaled).min(dot(&scaled, &scaled));
        Ok(Belief {
            mean: dot(&scaled, &self.means),
            sd: variance.sqrt(),
        })
    }
}

fn out_of_range_unless(
    holds: bool,
    field: &'static str,
    value: f64,
    expected: &'static str,
) -> Result<(), StatisticsError> {
    if holds {
        return Ok(());
    }
    Err(StatisticsError::OutOfRange {
        field,
        value,
        expected,
    })
}

fn known_effect(effect: usize, prior_sds: &[f64]) -> Result<usize, StatisticsError> {
    let expected = "the index of an effect with a prior";
    out_of_range_unless(effect < prior_sds.len(), "effect", effect as f64, expected)?;
    Ok(effect)
}

fn row(seen: &LinearObservation, prior_sds: &[f64]) -> Result<Row, StatisticsError> {
    let expected = "a finite number above 0, at least 1e-5 of the prior sd of what it observes";
    let usable = seen.sd.is_finite() && seen.sd > 0.0;
    out_of_range_unless(usable, "observation sd", seen.sd, expected)?;
    let mut loads = BTreeMap::new();
    for &(effect, load) in &seen.loads {
        let prior_sd = prior_sds[known_effect(effect, prior_sds)?];
        *loads.entry(effect).or_insert(0.0) += finite("load", load)? * prior_sd / seen.sd;
    }
    let coarse = loads
        .values()
        .all(|b: &f64| b.abs() * MIN_NOISE_SHARE <= 1.0);
    out_of_range_unless(coarse, "observation sd", seen.sd, expected)?;
    Ok(Row {
        value: finite("observed value", seen.value)? / seen.sd,
        loads,
    })
}

fn total_order(a: &Row, b: &Row) -> std::cmp::Ordering {
    let loads = a.loads.iter().zip(&b.loads);
    loads
        .map(|((i, x), (j, y))| i.cmp(j).then(x.total_cmp(y)))
        .find(|order| order.is_ne())
        .unwrap_or_else(|| a.loads.len().cmp(&b.loads.len()))
        .then(a.value.total_cmp(&b.value))
}

/// P while effects are eliminated from it.
struct Precision {
    diagonal: Vec<f64>,
    /// Off-diagonal entries of each row, in both triangles.
    links: Vec<BTreeMap<usize, f64>>,
}

impl Precision {
    fn prior(effects: usize) -> Self {
        Self {
            diagonal: vec![1.0; effects],
            links: vec![BTreeMap::new(); effects],
        }
    }

    fn add(&mut self, row: &Row) {
        for (&first, a) in &row.loads {
            for (&second, b) in &row.loads {
                if first == second {
                    self.diagonal[first] += a * b;
                } else {
                    *self.links[first].entry(second).or_insert(0.0) += a * b;
                }
            }
        }
    }

    fn factorise(mut self) -> Result<Factor, StatisticsError> {
        let degrees = self.links.iter().map(BTreeMap::len).enumerate();
        let mut open: BTreeSet<(usize, usize)> = degrees.map(|(i, degree)| (degree, i)).collect();
        let mut eliminated = Vec::new();
        while let Some(&(degree, effect)) = open.first() {
            if 2 * degree >= open.len() {
                break;
            }
            open.remove(&(degree, effect));
            eliminated.push(self.eliminate(effect, &mut open)?);
        }
        let mut rest: Vec<usize> = open.into_iter().map(|(_, effect)| effect).collect();
        rest.sort_unstable();
        let few = rest.len() <= MAX_DENSE_EFFECTS;
        let field = "number of effects that all meet";
        out_of_range_unless(few, field, rest.len() as f64, "at most 2000")?;
        let entry = |i: usize, j: usize| match self.links[i].get(&j) {
            Some(link) => *link,
            None if i == j => self.diagonal[i],
            None => 0.0,
        };
        let lower = rest.iter().enumerate().map(|(place, &i)| {
            let before = rest.iter().take(place + 1);
            before.map(|&j| entry(i, j)).collect()
        });
        Ok(Factor {
            dense: cholesky(lower.collect())?,
            eliminated,
            rest,
        })
    }

    /// Takes one effect out (Schur complement); its neighbours then meet one another.
    fn eliminate(
        &mut self,
        effect: usize,
        open: &mut BTreeSet<(usize, usize)>,
    ) -> Result<Eliminated, StatisticsError> {
        let pivot = usable_pivot(self.diagonal[effect])?;
        let links = std::mem::take(&mut self.links[effect]);
        for (&i, a) in &links {
            open.remove(&(self.links[i].len(), i));
            self.links[i].remove(&effect);
            self.diagonal[i] -= a * a / pivot;
            for (&j, b) in links.iter().filter(|(j, _)| **j != i) {
                *self.links[i].entry(j).or_insert(0.0) -= a * b / pivot;
            }
            open.insert((self.links[i].len(), i));
        }
        Ok(Eliminated {
            effect,
            pivot,
            links,
        })
    }
}

/// P as a product of factors.
#[derive(Clone, Debug)]
struct Factor {
    /// In the order in which they were.
    eliminated: Vec<Eliminated>,
    /// The effects left.
    rest: Vec<usize>,
    /// Lower triangle of the Cholesky factor of what is left.
    dense: Vec<Vec<f64>>,
}

/// An effect taken out of the precision.
#[derive(Clone, Debug)]
struct Eliminated {
    effect: usize,
    pivot: f64,
    /// Entries of its row then.
    links: BTreeMap<usize, f64>,
}

impl Factor {
    /// The right side once the eliminated are out of it, and that of the rest over the dense factor.
    fn forward(&self, right: &[f64]) -> (Vec<f64>, Vec<f64>) {
        let mut x = right.to_vec();
        for own in &self.eliminated {
            let per_link = x[own.effect] / own.pivot;
            for (&other, link) in &own.links {
                x[other] -= link * per_link;
            }
        }
        let rest: Vec<f64> = self.rest.iter().map(|effect| x[*effect]).collect();
        (x, forward(&self.dense, &rest))
    }

    /// c' P^-1 c, a sum of squares.
    fn variance(&self, c: &[f64]) -> f64 {
        let (x, rest) = self.forward(c);
        let apart = self.eliminated.iter();
        let apart: f64 = apart
            .map(|own| x[own.effect] * x[own.effect] / own.pivot)
            .sum();
        apart + dot(&rest, &rest)
    }

    /// x of P x = right.
    fn solve(&self, right: &[f64]) -> Vec<f64> {
        let (mut x, rest) = self.forward(right);
        for (effect, value) in self.rest.iter().zip(backward(&self.dense, &rest)) {
            x[*effect] = value;
        }
        for own in self.eliminated.iter().rev() {
            let pulls = own.links.iter().map(|(&other, link)| link * x[other]);
            x[own.effect] = (x[own.effect] - pulls.sum::<f64>()) / own.pivot;
        }
        x
    }
}

fn usable_pivot(pivot: f64) -> Result<f64, StatisticsError> {
    if pivot.is_finite() && pivot > 0.0 {
        Ok(pivot)
    } else {
        Err(StatisticsError::NotPositiveDefinite { pivot })
    }
}

/// Lower triangle L of L L' = matrix, which is given by its lower triangle.
fn cholesky(mut matrix: Vec<Vec<f64>>) -> Result<Vec<Vec<f64>>, StatisticsError> {
    for i in 0..matrix.len() {
        let (done, rest) = matrix.split_at_mut(i);
        let Some(row) = rest.first_mut() else { break };
        for (j, earlier) in done.iter().enumerate() {
            row[j] = (row[j] - dot(&row[..j], &earlier[..j])) / earlier[j];
        }
        row[i] = usable_pivot(row[i] - dot(&row[..i], &row[..i]))?.sqrt();
    }
    Ok(matrix)
}

/// x of L x = right.
fn forward(factor: &[Vec<f64>], right: &[f64]) -> Vec<f64> {
    let mut x = Vec::with_capacity(right.len());
    for (i, row) in factor.iter().enumerate() {
        let value = (right[i] - dot(&row[..i], &x)) / row[i];
        x.push(value);
    }
    x
}

/// x of L' x = right.
fn backward(factor: &[Vec<f64>], right: &[f64]) -> Vec<f64> {
    let mut x = right.to_vec();
    for (i, row) in factor.iter().enumerate().rev() {
        x[i] /= row[i];
        let value = x[i];
        for (before, l) in x[..i].iter_mut().zip(row) {
            *before -= l * value;
        }
    }
    x
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}
