//! Worked values. Where a number is given without a source it is the arithmetic of normal priors and
//! normal errors, done apart from the code.

use super::{Correction, Layer, LayerBelief, Observation, Subject, posterior, surprise};

pub(super) const PRIOR: f64 = 0.45;

pub(super) fn seen(component: &str, unit: &str, ln_rate: f64) -> Observation {
    Observation {
        component: component.into(),
        unit: unit.into(),
        position: "cylinder-1".into(),
        treatments: String::new(),
        instrument: String::new(),
        ln_rate,
        ln_sd: 0.2,
        bias_slope: 0.0,
    }
}

pub(super) fn part(component: &str, unit: &str) -> Subject {
    Subject {
        component: component.into(),
        unit: unit.into(),
        position: "cylinder-1".into(),
        treatments: String::new(),
    }
}

fn treated(seen: Observation) -> Observation {
    Observation {
        treatments: "dry-film".into(),
        ..seen
    }
}

fn treated_part(component: &str, unit: &str) -> Subject {
    Subject {
        treatments: "dry-film".into(),
        ..part(component, unit)
    }
}

fn layer(correction: &Correction, layer: Layer) -> &LayerBelief {
    correction.layers.iter().find(|l| l.layer == layer).unwrap()
}

fn assert_near(value: f64, expected: f64, within: f64) {
    assert!(
        (value - expected).abs() <= within,
        "{value}, expected {expected} within {within}"
    );
}

/// Predicted 16 um, measured 22 +- 3 um, model form 0.15, prior 0.45: multiplier 1.30, spread 0.185, treated or not.
#[test]
fn one_reading_alone() {
    for treatments in ["", "dry-film"] {
        let mut reading = seen("ring-1", "engine-a", (22.0_f64 / 16.0).ln());
        reading.ln_sd = (3.0_f64 / 22.0).hypot(0.15);
        reading.treatments = treatments.into();
        let mut subject = part("ring-1", "engine-a");
        subject.treatments = treatments.into();
        let correction = posterior(PRIOR, &[reading], &subject).unwrap();
        assert_near(correction.total.mean.exp(), 1.30, 0.005);
        assert_near(correction.total.sd, 0.185, 0.0005);
        let means: f64 = correction.layers.iter().map(|l| l.mean).sum();
        assert_near(means, correction.total.mean, 1e-12);
        // Each layer takes its share of the variance of the whole.
        let shop = layer(&correction, Layer::Shop);
        assert_near(shop.mean, 0.35 * correction.total.mean, 1e-12);
        assert_near(shop.prior_sd, PRIOR * 0.35_f64.sqrt(), 1e-12);
    }
}

#[test]
fn without_readings_every_part_has_the_prior_of_the_card() {
    for subject in [
        part("ring-1", "engine-a"),
        treated_part("ring-1", "engine-a"),
    ] {
        let correction = posterior(PRIOR, &[], &subject).unwrap();
        assert_near(correction.total.mean, 0.0, 0.0);
        assert_near(correction.total.sd, PRIOR, 1e-12);
        let variances: f64 = correction.layers.iter().map(|l| l.prior_sd.powi(2)).sum();
        assert_near(variances, PRIOR * PRIOR, 1e-12);
        let has_treatment = correction
            .layers
            .iter()
            .any(|l| l.layer == Layer::Treatment);
        assert_eq!(has_treatment, !subject.treatments.is_empty());
    }
}

/// Two unlike parts of two units share the shop alone: gain .35 v / (v + d^2), with v the prior variance and d
/// the error; the same unit and position add .15 and .10.
#[test]
fn what_other_parts_teach() {
    let (v, reading) = (PRIOR * PRIOR, seen("ring-1", "engine-a", 0.4));
    let per_share = 0.4 * v / (v + 0.04);
    let mut elsewhere = part("ring-2", "engine-b");
    elsewhere.position = "cylinder-2".into();
    let mean = |subject: &Subject| {
        let readings = std::slice::from_ref(&reading);
        posterior(PRIOR, readings, subject).unwrap().total.mean
    };
    assert_near(mean(&elsewhere), 0.35 * per_share, 1e-12);
    elsewhere.unit = "engine-a".into();
    assert_near(mean(&elsewhere), 0.50 * per_share, 1e-12);
    assert_near(mean(&part("ring-2", "engine-b")), 0.45 * per_share, 1e-12);
    assert_near(mean(&part("ring-2", "engine-a")), 0.60 * per_share, 1e-12);
    // A treated part learns as much from an untreated one: all but the treatment.
    assert_near(
        mean(&treated_part("ring-2", "engine-a")),
        0.60 * per_share,
        1e-12,
    );
    // Not knowing the place is not sharing it.
    let mut nowhere = reading.clone();
    (nowhere.unit, nowhere.position) = (String::new(), String::new());
    let mut subject = part("ring-2", "");
    subject.position = String::new();
    let correction = posterior(PRIOR, &[nowhere], &subject).unwrap();
    assert_near(correction.total.mean, 0.35 * per_share, 1e-12);
}

/// Two testers 2 % apart on the same eight parts. A loss of 5 % moves by 20 % of itself with 1 % of bias. What one
/// reads high the other reads low, by the same prior: they split the difference, and the rate stays.
#[test]
fn two_testers_apart() {
    let mut readings = Vec::new();
    for n in 0..8 {
        for (tester, ln_rate) in [("tester-1", 0.2), ("tester-2", -0.2)] {
            let mut reading = seen(&format!("spring-{n}"), "engine-a", ln_rate);
            (reading.instrument, reading.bias_slope) = (tester.into(), 20.0);
            reading.ln_sd = 0.1;
            readings.push(reading);
        }
    }
    let correction = posterior(PRIOR, &readings, &part("spring-1", "engine-a")).unwrap();
    assert_near(correction.total.mean, 0.0, 1e-9);
    let [first, second] = &correction.biases[..] else {
        panic!("{:?}", correction.biases)
    };
    assert_near(first.mean, 0.01, 0.0005);
    assert_near(second.mean, -first.mean, 1e-9);
    assert!(first.sd < 0.02);
    // Shown by one tester alone, the same readings would have moved the rate.
    readings.retain(|reading| reading.instrument == "tester-1");
    let alone = posterior(PRIOR, &readings, &part("spring-1", "engine-a")).unwrap();
    assert!(alone.total.mean > 0.05, "{}", alone.total.mean);
}

/// One treated and one untreated unit: unit and treatment cannot be told apart, however many parts were
/// measured. With endless parts the means of both units are known, (shop + treatment + unit) and (shop + unit), and the
/// treatment keeps 1 - .20 / (.70 - .35^2 / .50) of its variance: 0.749 of its spread. The rate of the part
/// itself is learnt all the same.
#[test]
fn nothing_is_learnt_of_a_treatment_from_one_unit() {
    for (parts, at_least) in [(1, 0.8), (4, 0.8), (8, 0.78), (400, 0.749)] {
        let mut readings = Vec::new();
        for n in 0..parts {
            let mut plain = seen(&format!("ring-a{n}"), "engine-a", 0.0);
            plain.position = format!("cylinder-{n}");
            let mut coated = treated(seen(&format!("ring-b{n}"), "engine-b", -0.5));
            coated.position.clone_from(&plain.position);
            readings.extend([plain, coated]);
        }
        let mut subject = treated_part("ring-b0", "engine-b");
        subject.position = "cylinder-0".into();
        let correction = posterior(PRIOR, &readings, &subject).unwrap();
        let treatment = layer(&correction, Layer::Treatment);
        let left = treatment.sd / treatment.prior_sd;
        assert!(left > at_least, "{left} of the prior with {parts} parts");
        assert!(correction.total.sd < 0.5 * PRIOR);
        assert_eq!((treatment.units, treatment.observations), (1, parts));
        let said = correction.unproven.unwrap();
        assert!(
            said.starts_with("one treated unit: nothing is proven of the treatment"),
            "{said}"
        );
    }
}

#[test]
fn the_spread_of_a_treatment_falls_with_units() {
    let subject = treated_part("ring-t0", "treated-0");
    let mut readings = Vec::new();
    let mut spreads = vec![1.0];
    let mut proven_at = None;
    for unit in 0..16 {
        for n in 0..4 {
            let at = |treated: &str| {
                seen(
                    &format!("ring-{treated}{unit}{n}"),
                    &format!("{treated}-{unit}"),
                    0.0,
                )
            };
            readings.extend([at("plain"), treated(at("treated"))]);
        }
        let correction = posterior(PRIOR, &readings, &subject).unwrap();
        let treatment = layer(&correction, Layer::Treatment);
        spreads.push(treatment.sd / treatment.prior_sd);
        assert_eq!(treatment.units, unit + 1);
        if correction.unproven.is_none() && proven_at.is_none() {
            proven_at = Some(unit + 1);
        }
    }
    assert!(
        spreads.windows(2).all(|pair| pair[1] < pair[0]),
        "{spreads:?}"
    );
    let proven_at = proven_at.unwrap();
    assert!(proven_at > 2 && spreads[proven_at] < 0.5 && spreads[proven_at - 1] >= 0.5);
}

/// What the sentence asks for is what it takes: no fewer units do.
#[test]
fn the_number_of_further_units_is_the_number_it_takes() {
    let mut readings = vec![
        seen("ring-a", "engine-a", 0.1),
        treated(seen("ring-b", "engine-b", -0.4)),
    ];
    let subject = treated_part("ring-b", "engine-b");
    let said = posterior(PRIOR, &readings, &subject)
        .unwrap()
        .unproven
        .unwrap();
    let number = |before: &str| -> usize {
        let words = said.split(before).next().unwrap();
        words.split_whitespace().last().unwrap().parse().unwrap()
    };
    let (more, untreated) = (number(" more treated units"), number(" more untreated"));
    assert_eq!(more, untreated, "{said}");
    for n in 0..more {
        let left = posterior(PRIOR, &readings, &subject).unwrap().unproven;
        assert!(left.is_some(), "told enough after {n} of {more}");
        readings.push(seen(&format!("ring-c{n}"), &format!("engine-c{n}"), 0.0));
        readings.push(treated(seen(
            &format!("ring-d{n}"),
            &format!("engine-d{n}"),
            -0.4,
        )));
    }
    assert_eq!(
        posterior(PRIOR, &readings, &subject).unwrap().unproven,
        None
    );
}

#[test]
fn a_treatment_never_measured_is_said_to_be_unknown() {
    let correction = posterior(
        PRIOR,
        &[seen("ring-a", "engine-a", 0.1)],
        &treated_part("ring-b", "engine-b"),
    );
    let said = correction.unwrap().unproven.unwrap();
    assert!(
        said.starts_with("no treated unit has been measured"),
        "{said}"
    );
    let untreated = posterior(PRIOR, &[], &part("ring-a", "engine-a")).unwrap();
    assert_eq!(untreated.unproven, None);
}

/// A part on its own: z = y / hypot(prior, error). With three like readings of the same part near 0 the expectation
/// is much narrower.
#[test]
fn surprise_is_the_residual_of_leaving_one_out() {
    let alone = [seen("ring-1", "engine-a", 1.0)];
    let z = surprise(PRIOR, &alone, 0).unwrap();
    assert_near(z, 1.0 / PRIOR.hypot(0.2), 1e-12);
    let mut readings: Vec<Observation> = (0..3).map(|_| seen("ring-1", "engine-a", 0.0)).collect();
    readings.push(seen("ring-1", "engine-a", 1.0));
    let v = 1.0 / (1.0 / (PRIOR * PRIOR) + 3.0 / 0.04);
    assert_near(
        surprise(PRIOR, &readings, 3).unwrap(),
        1.0 / (v + 0.04).sqrt(),
        1e-12,
    );
    assert!(surprise(PRIOR, &readings, 4).is_err());
    // A tester never heard before brings its bias with it, as one that was not told does.
    for instrument in ["tester-1", ""] {
        (readings[3].instrument, readings[3].bias_slope) = (instrument.into(), 10.0);
        assert_near(
            surprise(PRIOR, &readings, 3).unwrap(),
            1.0 / (v + 0.04 + 0.04).sqrt(),
            1e-12,
        );
    }
}

#[test]
fn refusals_name_the_number() {
    let mut reading = seen("ring-1", "engine-a", 0.1);
    reading.ln_sd = 0.0;
    let subject = part("ring-1", "engine-a");
    let said = posterior(PRIOR, &[reading.clone(), reading], &subject)
        .unwrap_err()
        .to_string();
    assert!(
        said.contains("observation sd is 0, expected a finite number above 0"),
        "{said}"
    );
    let said = posterior(-0.1, &[], &subject).unwrap_err().to_string();
    assert!(said.contains("prior sd"), "{said}");
    let many = vec![seen("ring-1", "engine-a", 0.0); super::MAX_OBSERVATIONS + 1];
    let said = posterior(PRIOR, &many, &subject).unwrap_err().to_string();
    assert!(said.contains("5001") && said.contains("5000"), "{said}");
}

/// A card that is sure of its rate learns nothing.
#[test]
fn a_certain_prior_stays() {
    let readings = [treated(seen("ring-1", "engine-a", 1.0))];
    let correction = posterior(0.0, &readings, &treated_part("ring-1", "engine-a")).unwrap();
    assert_near(correction.total.mean, 0.0, 0.0);
    assert_near(correction.total.sd, 0.0, 0.0);
    assert_eq!(correction.unproven, None);
}
