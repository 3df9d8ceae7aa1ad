//! The age at which replacing a part before it fails costs least.

use crate::{
    FindReplacementAge, FittedLives, LedgerError, LifeLaw, ReplacementAge, ReplacementLives,
    ledger::Ledger, predict::warning, violations::Violations,
};
use ringland_host::contract::Finding;
use ringland_mechanics::statistics::{Weibull, replacement};

const LARGEST_AMOUNT: f64 = 1e12;
const SHAPES: std::ops::RangeInclusive<f64> = 0.05..=100.0;

/// A law of lives and where its shape may lie.
struct Law {
    weibull: Weibull,
    age_unit: String,
    shapes: Option<[f64; 2]>,
    notes: Vec<Finding>,
}

impl Ledger {
    /// Finds the age at which replacing a part before it fails costs least, by a Weibull law that is given or fitted to lives.
    ///
    /// # Errors
    /// [`LedgerError::InvalidArgument`], [`LedgerError::FailedPrecondition`] when the lives are too few for a law, and those
    /// of `analyze_lives`.
    pub fn find_replacement_age(
        &self,
        request: &FindReplacementAge,
    ) -> Result<ReplacementAge, LedgerError> {
        check(request)?;
        let law = match &request.lives {
            ReplacementLives::Weibull {
                shape,
                scale,
                age_unit,
            } => Law {
                weibull: weibull(*shape, *scale)?,
                age_unit: age_unit.clone(),
                shapes: None,
                notes: Vec::new(),
            },
            ReplacementLives::Lives(source) => {
                let found = self.analyze_lives(source)?;
                let fitted = found.fits.iter().find(|fit| fit.law == LifeLaw::Weibull);
                let fitted = fitted.ok_or_else(|| {
                    LedgerError::precondition(
                        crate::Reason::ReadingMissing,
                        "lives",
                        format!("no Weibull law can be fitted: {}; give the shape and scale, or more lives", found.verdict),
                    )
                })?;
                law_of(
                    fitted,
                    &found.age_unit,
                    found.findings.clone(),
                    found.enough,
                )?
            }
        };
        answer(request, law)
    }
}

fn check(request: &FindReplacementAge) -> Result<(), LedgerError> {
    let mut violations = Violations::default();
    let costs = [
        ("planned_cost", request.planned_cost),
        ("failure_cost", request.failure_cost),
    ];
    for (field, cost) in costs {
        if !(cost > 0.0 && cost <= LARGEST_AMOUNT) {
            violations.add(
                field,
                cost,
                "more than 0, at most 1e12",
                "give what it costs",
            );
        }
    }
    if let ReplacementLives::Weibull {
        shape,
        scale,
        age_unit,
    } = &request.lives
    {
        if !SHAPES.contains(shape) {
            violations.add(
                "weibull.shape",
                shape,
                "0.05 to 100",
                "give the shape of the law",
            );
        }
        if !(*scale > 0.0 && scale.is_finite()) {
            violations.add(
                "weibull.scale",
                scale,
                "a finite number, more than 0",
                "give the characteristic life",
            );
        }
        if age_unit.is_empty() || age_unit.len() > 63 {
            let remedy = "say in what ages are counted, such as h or events";
            violations.add(
                "weibull.age_unit",
                format!("{age_unit:?}"),
                "1 to 63 bytes",
                remedy,
            );
        }
    }
    violations.into_result()
}

fn weibull(shape: f64, scale: f64) -> Result<Weibull, LedgerError> {
    Weibull::new(shape, scale).map_err(not_computed)
}

fn not_computed(error: ringland_mechanics::statistics::StatisticsError) -> LedgerError {
    LedgerError::Internal {
        message: format!("the age of replacement was not computed: {error}"),
    }
}

fn law_of(
    fitted: &FittedLives,
    age_unit: &str,
    mut notes: Vec<Finding>,
    enough: bool,
) -> Result<Law, LedgerError> {
    let mut estimates = fitted.parameters.iter().map(|(_, estimate)| *estimate);
    let (shape, scale) = (
        estimates.next().unwrap_or_default(),
        estimates.next().unwrap_or_default(),
    );
    if !enough {
        notes.push(warning(
            "lives".into(),
            "few ends".into(),
            "at least 5",
            "the age may be far off: take its range, and the maker's limit where that is less"
                .into(),
        ));
    }
    Ok(Law {
        weibull: weibull(shape.value, scale.value)?,
        age_unit: age_unit.into(),
        shapes: Some([shape.low, shape.high]),
        notes,
    })
}

fn answer(request: &FindReplacementAge, law: Law) -> Result<ReplacementAge, LedgerError> {
    let best = |weibull: &Weibull| {
        replacement::age_replacement(weibull, request.planned_cost, request.failure_cost)
            .map_err(not_computed)
    };
    let run_to_failure_cost_rate = request.failure_cost / law.weibull.mean();
    let found = best(&law.weibull)?;
    let mut age_range = None;
    if let Some(shapes) = law
        .shapes
        .filter(|shapes| shapes.iter().all(|shape| *shape > 0.0))
    {
        let mut ages = Vec::new();
        for shape in shapes {
            ages.extend(best(&weibull(shape, law.weibull.scale)?)?.map(|found| found.age));
        }
        ages.sort_by(f64::total_cmp);
        age_range = match ages.as_slice() {
            [low, high] => Some([*low, *high]),
            _ => None,
        };
    }
    let unit = &law.age_unit;
    let spread = age_range.map_or(String::new(), |[low, high]| {
        format!(" ({low:.4} to {high:.4} by the interval of the shape)")
    });
    let verdict = match found {
        Some(found) => format!(
            "Replace at {:.4} {unit}{spread}: {:.4} for each of them, against {:.4} when run to the end.",
            found.age, found.cost_rate, run_to_failure_cost_rate
        ),
        None if law.weibull.shape <= 1.0 => format!(
            "No age is better than running to the end: with a shape of {:.3} an old part is no likelier to end than a new one. Look \
             for what ends young parts.",
            law.weibull.shape
        ),
        None => "No age is better than running to the end: an end costs no more than a replacement, or next to nothing is saved.".into(),
    };
    Ok(ReplacementAge {
        age_unit: law.age_unit,
        shape: law.weibull.shape,
        scale: law.weibull.scale,
        age: found.map(|found| found.age),
        age_range,
        cost_rate: found.map_or(run_to_failure_cost_rate, |found| found.cost_rate),
        run_to_failure_cost_rate,
        verdict,
        notes: law.notes,
    })
}
