//! What is planted in the season, and what should be said of it: written down before the models were asked.

use serde::Deserialize;

use super::DemoError;

const PLANTED: &str = include_str!("planted.toml");

/// Something that happens in the season to show one thing that the ledger does.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Planted {
    /// Short name.
    pub id: String,
    /// The event after which it is asked about.
    pub event: String,
    /// Where, for people.
    pub place: String,
    /// What happens.
    pub happened: String,
    /// What should be said, statement by statement.
    pub statements: Vec<Statement>,
}

/// One thing that should be said.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Statement {
    /// Short name, its own among those of its event.
    pub id: String,
    /// In words.
    pub says: String,
    /// The figure that goes with it. Without one it is a principle: it holds or it does not.
    pub figure: Option<Figure>,
}

/// A stated figure and how near another must come to count as the same.
#[derive(Debug, Clone, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Figure {
    /// As stated.
    pub value: f64,
    /// Its unit.
    pub unit: String,
    /// How near.
    pub tolerance: Tolerance,
}

/// How near a figure must come.
#[derive(Debug, Clone, Copy, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Tolerance {
    /// In the figure's unit.
    Within(f64),
    /// As a factor, either way.
    Factor(f64),
}

impl Figure {
    /// Whether another figure is the same.
    pub fn is_met_by(&self, other: f64) -> bool {
        match self.tolerance {
            Tolerance::Within(band) => (other - self.value).abs() <= band,
            Tolerance::Factor(factor) => {
                let ratio = other / self.value;
                ratio.is_finite() && ratio <= factor && ratio >= 1.0 / factor
            }
        }
    }
}

/// What is planted, in the order of time.
///
/// # Errors
/// [`DemoError::Season`] when its file does not parse.
pub fn planted() -> Result<Vec<Planted>, DemoError> {
    #[derive(Deserialize)]
    #[serde(deny_unknown_fields)]
    struct File {
        planted: Vec<Planted>,
    }
    let file: File =
        toml::from_str(PLANTED).map_err(|error| DemoError::Season(error.to_string()))?;
    Ok(file.planted)
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use crate::demo::Season;
    use std::collections::BTreeSet;

    #[test]
    fn what_is_planted_is_in_the_season_and_every_statement_has_a_name() {
        let season = Season::load().unwrap();
        let order = |event: &str| season.events.iter().position(|e| e.code == event).unwrap();
        let planted = planted().unwrap();
        assert!(
            planted
                .windows(2)
                .all(|pair| order(&pair[0].event) <= order(&pair[1].event))
        );
        for one in &planted {
            let names: BTreeSet<&String> = one.statements.iter().map(|s| &s.id).collect();
            assert!(
                !names.is_empty() && names.len() == one.statements.len(),
                "{one:?}"
            );
        }
    }

    #[test]
    fn a_figure_is_met_within_its_tolerance_only() {
        let figure = |tolerance| Figure {
            value: 10.0,
            unit: "um".into(),
            tolerance,
        };
        let within = figure(Tolerance::Within(1.0));
        assert!(within.is_met_by(9.0) && within.is_met_by(11.0));
        assert!(!within.is_met_by(11.1) && !within.is_met_by(f64::NAN));
        let factor = figure(Tolerance::Factor(2.0));
        assert!(factor.is_met_by(5.0) && factor.is_met_by(20.0));
        assert!(!factor.is_met_by(4.9) && !factor.is_met_by(-10.0) && !factor.is_met_by(f64::NAN));
    }
}
