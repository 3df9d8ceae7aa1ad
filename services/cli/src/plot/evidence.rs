//! Plots of what the shop's own parts tell.

use super::{Curve, Plot, Stroke};
use ringland_proto::v1::{
    Estimate, GroupComparison, GroupSummary, LifeAnalysis, LifeCounts, LifeLaw,
    ReplacementAnalysis, SurvivalPoint,
};

/// Points of a smooth curve.
const POINTS: u32 = 120;

fn caption(counts: Option<&LifeCounts>) -> String {
    let counts = counts.copied().unwrap_or_default();
    let running = counts.parts - counts.ended;
    format!(
        "{} parts of {} units: {} ended, {running} still running or taken out in good order",
        counts.parts, counts.units, counts.ended
    )
}

/// Share alive of like parts, with the fit that describes them best.
pub fn of_lives(found: &LifeAnalysis) -> Plot {
    let oldest = found.lives.iter().map(|life| life.age).fold(0.0, f64::max);
    let mut curves = kaplan_meier("Kaplan-Meier", &found.survival, oldest, Stroke::Solid);
    let best = found
        .fits
        .iter()
        .min_by(|a, b| a.akaike.total_cmp(&b.akaike));
    if let Some(fit) = best {
        let parameter = |name: &str| {
            let named = fit
                .parameters
                .iter()
                .find(|parameter| parameter.name == name);
            named
                .and_then(|parameter| parameter.estimate)
                .map_or(0.0, |found| found.value)
        };
        let (name, alive): (_, Box<dyn Fn(f64) -> f64>) = match fit.law() {
            LifeLaw::Weibull => {
                let (shape, scale) = (parameter("shape"), parameter("scale"));
                (
                    "Weibull fit",
                    Box::new(move |age: f64| (-(age / scale).powf(shape)).exp()),
                )
            }
            LifeLaw::Lognormal => {
                let (mean, sd) = (parameter("ln_mean"), parameter("ln_sd"));
                (
                    "lognormal fit",
                    Box::new(move |age: f64| normal_survival((age.ln() - mean) / sd)),
                )
            }
            LifeLaw::Exponential | LifeLaw::Unspecified => {
                let mean = parameter("mean");
                (
                    "exponential fit",
                    Box::new(move |age: f64| (-age / mean).exp()),
                )
            }
        };
        let at = |step: u32| {
            let age = oldest * f64::from(step) / f64::from(POINTS);
            (age, if step == 0 { 1.0 } else { alive(age) })
        };
        curves.push(Curve {
            name: name.into(),
            points: (0..=POINTS).map(at).collect(),
            stroke: Stroke::Dashed,
        });
    }
    Plot {
        title: "Share of parts alive".into(),
        caption: caption(found.counts.as_ref()),
        age: format!("age, {}", found.age_unit),
        value: "share alive (fine: 95 %)".into(),
        reach: (oldest, 1.0),
        falls: true,
        curves,
    }
}

/// `1 - Phi(z)` to 1.5e-7 (Abramowitz and Stegun 26.2.17, from memory): a line on paper needs no more.
fn normal_survival(z: f64) -> f64 {
    let t = 1.0 / (1.0 + 0.231_641_9 * z.abs());
    let coefficients = [
        1.330_274_429,
        -1.821_255_978,
        1.781_477_937,
        -0.356_563_782,
        0.319_381_530,
    ];
    let sum = coefficients.iter().fold(0.0, |sum, c| (sum + c) * t);
    let tail = (-0.5 * z * z).exp() / (2.0 * std::f64::consts::PI).sqrt() * sum;
    if z < 0.0 { 1.0 - tail } else { tail }
}

/// Share alive of two groups.
pub fn of_groups(found: &GroupComparison) -> Plot {
    let groups = [found.base.as_ref(), found.other.as_ref()];
    let last = |group: Option<&GroupSummary>| {
        let points = group.map_or(&[][..], |group| &group.survival);
        points.last().map_or(0.0, |point| point.age)
    };
    let oldest = 1.05 * groups.iter().map(|group| last(*group)).fold(0.0, f64::max);
    let mut curves = Vec::new();
    for (group, stroke) in groups
        .into_iter()
        .flatten()
        .zip([Stroke::Solid, Stroke::Dashed])
    {
        curves.extend(kaplan_meier(&group.group, &group.survival, oldest, stroke));
    }
    let counts = groups.into_iter().flatten().map(|group| {
        let counts = group.counts.unwrap_or_default();
        format!(
            "{}: {} parts of {} units, {} ended",
            group.group, counts.parts, counts.units, counts.ended
        )
    });
    Plot {
        title: if found.proven {
            "Share of parts alive"
        } else {
            "Share of parts alive: nothing is proven"
        }
        .into(),
        caption: counts.collect::<Vec<_>>().join("; "),
        age: format!("age, {}", found.age_unit),
        value: "share alive (fine: 95 %)".into(),
        reach: (oldest, 1.0),
        falls: true,
        curves,
    }
}

/// Mean replacements of a unit.
pub fn of_replacements(found: &ReplacementAnalysis) -> Plot {
    let oldest = found.units.iter().map(|unit| unit.end).fold(0.0, f64::max);
    let steps: Vec<(f64, Estimate)> = found
        .steps
        .iter()
        .map(|step| (step.age, step.mean.unwrap_or_default()))
        .collect();
    let highest = steps.iter().map(|(_, mean)| mean.high).fold(0.0, f64::max);
    let curve = |name: &str, of: fn(&Estimate) -> f64, stroke| Curve {
        name: name.into(),
        points: stairs(
            0.0,
            steps.iter().map(|(age, mean)| (*age, of(mean))),
            oldest,
        ),
        stroke,
    };
    let replaced: usize = found.units.iter().map(|unit| unit.ages.len()).sum();
    Plot {
        title: "Mean replacements of a unit".into(),
        caption: format!("{} units, {replaced} replacements", found.units.len()),
        age: format!("age of the unit, {}", found.age_unit),
        value: "replacements so far (fine: 95 %)".into(),
        reach: (oldest, highest),
        falls: false,
        curves: vec![
            curve("mean", |mean| mean.value, Stroke::Solid),
            curve("", |mean| mean.low, Stroke::Fine),
            curve("", |mean| mean.high, Stroke::Fine),
        ],
    }
}

/// The estimate and the ends of its interval.
fn kaplan_meier(name: &str, points: &[SurvivalPoint], oldest: f64, stroke: Stroke) -> Vec<Curve> {
    let fine = if stroke == Stroke::Solid {
        Stroke::Fine
    } else {
        Stroke::Dotted
    };
    let curve = |name: &str, of: fn(&Estimate) -> f64, stroke| Curve {
        name: name.into(),
        points: stairs(
            1.0,
            points
                .iter()
                .map(|point| (point.age, of(&point.survival.unwrap_or_default()))),
            oldest,
        ),
        stroke,
    };
    vec![
        curve(name, |found| found.value, stroke),
        curve("", |found| found.low, fine),
        curve("", |found| found.high, fine),
    ]
}

/// Level until each age, then the next level, out to the last age.
fn stairs(start: f64, steps: impl Iterator<Item = (f64, f64)>, end: f64) -> Vec<(f64, f64)> {
    let mut points = vec![(0.0, start)];
    let mut level = start;
    for (age, next) in steps {
        points.extend([(age, level), (age, next)]);
        level = next;
    }
    points.push((end, level));
    points
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn stairs_step_at_their_ages() {
        let points = stairs(1.0, [(2.0, 0.5)].into_iter(), 4.0);
        assert_eq!(points, [(0.0, 1.0), (2.0, 1.0), (2.0, 0.5), (4.0, 0.5)]);
    }

    /// Any table of the normal distribution: 0.5, 0.1587, 0.9772.
    #[test]
    fn the_normal_tail_is_met() {
        for (z, tabled) in [(0.0, 0.5), (1.0, 0.158_655), (-2.0, 0.977_250)] {
            assert!((normal_survival(z) - tabled).abs() < 1e-6, "{z}");
        }
    }
}
