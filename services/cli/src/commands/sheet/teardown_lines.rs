//! Lines of a teardown sheet: each reading with what was predicted, what was measured, and what is doubtful.

use ringland_proto::v1::{
    Inspection, MeasuredReading, Prediction, ReadingPrediction, ThermalState,
};

/// A reading of [`prediction_before`], if it has the reading.
pub(super) fn before<'a>(
    stored: &'a [Prediction],
    inspection: &Inspection,
    reading: &str,
) -> Option<&'a ReadingPrediction> {
    let prediction = prediction_before(stored, inspection)?;
    prediction
        .readings
        .iter()
        .find(|each| each.reading == reading)
}

/// The newest stored prediction that was made before an inspection was entered. What was predicted afterwards knows the
/// measured value and proves nothing.
pub(super) fn prediction_before<'a>(
    stored: &'a [Prediction],
    inspection: &Inspection,
) -> Option<&'a Prediction> {
    let entered = key(inspection.create_time.as_ref())?;
    let measured = key(inspection.inspection_time.as_ref())?;
    let made_before = stored.iter().filter(|prediction| {
        let created = key(prediction.create_time.as_ref());
        let as_of = key(prediction.as_of_time.as_ref());
        created.is_some_and(|created| created < entered)
            && as_of.is_none_or(|as_of| as_of <= measured)
    });
    made_before.max_by_key(|prediction| key(prediction.create_time.as_ref()))
}

/// A time that can be compared.
fn key(time: Option<&prost_types::Timestamp>) -> Option<(i64, i32)> {
    time.map(|time| (time.seconds, time.nanos))
}

/// What is doubtful about a measured line. `earlier` is the inspection of the part before this one.
pub(super) fn doubts(
    line: &MeasuredReading,
    inspection: &Inspection,
    earlier: Option<&Inspection>,
    unit: &str,
) -> Vec<&'static str> {
    let mut doubts = Vec::new();
    if copied(line, inspection, earlier) {
        doubts.push("COPIED? same to the last digit as before");
    }
    if all_the_same(line, inspection) {
        doubts.push("ALL THE SAME? each position has this value");
    }
    if line.instrument.is_empty() && line.instrument_id.is_empty() {
        doubts.push("WHICH INSTRUMENT?");
    }
    if unit == "m" && line.master.is_none() && line.zero.is_none() {
        doubts.push("temperature not told");
    }
    let leaks = line.reading.starts_with("leak_down");
    if leaks && line.thermal_state() != ThermalState::Hot {
        doubts.push("NOT HOT: does not count");
    }
    doubts
}

/// The same value as in the inspection before, at the same position.
#[allow(clippy::float_cmp)] // a copy is exact
fn copied(line: &MeasuredReading, inspection: &Inspection, earlier: Option<&Inspection>) -> bool {
    let before = earlier.filter(|earlier| earlier.name != inspection.name);
    before.is_some_and(|before| {
        before.readings.iter().any(|each| {
            each.reading == line.reading
                && each.position == line.position
                && each.value == line.value
        })
    })
}

/// Three positions or more that all have the same value.
#[allow(clippy::float_cmp)] // as above
fn all_the_same(line: &MeasuredReading, inspection: &Inspection) -> bool {
    let like: Vec<&MeasuredReading> = inspection
        .readings
        .iter()
        .filter(|each| each.reading == line.reading)
        .collect();
    like.len() >= 3 && like.iter().all(|each| each.value == line.value)
}

#[cfg(test)]
mod tests {
    use super::*;
    use prost_types::Timestamp;
    use ringland_proto::v1::Quantiles;

    fn time(seconds: i64) -> Timestamp {
        Timestamp { seconds, nanos: 0 }
    }

    fn line(position: &str, value: f64) -> MeasuredReading {
        MeasuredReading {
            reading: "end_gap_m".into(),
            position: position.into(),
            value,
            instrument: "feeler gauge".into(),
            zero: Some(4e-4),
            ..Default::default()
        }
    }

    fn inspection(name: &str, readings: Vec<MeasuredReading>) -> Inspection {
        Inspection {
            name: name.into(),
            inspection_time: Some(time(100)),
            create_time: Some(time(1000)),
            readings,
            ..Default::default()
        }
    }

    fn stored(created: i64, as_of: i64, p50: f64) -> Prediction {
        Prediction {
            create_time: Some(time(created)),
            as_of_time: Some(time(as_of)),
            readings: vec![ReadingPrediction {
                reading: "end_gap_m".into(),
                now: Some(Quantiles {
                    p50,
                    ..Default::default()
                }),
                ..Default::default()
            }],
            ..Default::default()
        }
    }

    #[test]
    fn only_what_was_predicted_before_the_value_was_entered_counts() {
        let all = [
            stored(2000, 90, 3.0),
            stored(900, 90, 2.0),
            stored(800, 50, 1.0),
        ];
        let measured = inspection("i", vec![]);
        let found = before(&all, &measured, "end_gap_m").unwrap();
        assert!((found.now.unwrap().p50 - 2.0).abs() < 1e-12);
        assert!(before(&all, &measured, "no_such_reading").is_none());
        assert!(before(&all[..1], &measured, "end_gap_m").is_none());
        // One as of a later day than the measurement is not of this state.
        assert!(before(&[stored(900, 200, 2.0)], &measured, "end_gap_m").is_none());
    }

    #[test]
    fn lines_that_look_copied_are_told() {
        let earlier = inspection("a", vec![line("1", 5e-4)]);
        let now = inspection("b", vec![line("1", 5e-4), line("2", 5.1e-4)]);
        let of = |line: &MeasuredReading| doubts(line, &now, Some(&earlier), "m");
        assert!(of(&now.readings[0])[0].starts_with("COPIED?"));
        assert!(of(&now.readings[1]).is_empty());
        let same = inspection(
            "c",
            ["1", "2", "3"].map(|position| line(position, 5e-4)).into(),
        );
        let found = doubts(&same.readings[0], &same, None, "m");
        assert!(found[0].starts_with("ALL THE SAME?"), "{found:?}");
    }

    #[test]
    fn what_is_missing_of_a_line_is_told() {
        let mut bare = line("1", 5e-4);
        bare.instrument.clear();
        bare.zero = None;
        let now = inspection("b", vec![bare.clone()]);
        assert_eq!(
            doubts(&bare, &now, None, "m"),
            ["WHICH INSTRUMENT?", "temperature not told"]
        );
        let mut leak = line("1", 0.08);
        leak.reading = "leak_down_fraction".into();
        leak.thermal_state = ThermalState::Cold.into();
        let found = doubts(&leak, &now, None, "1");
        assert_eq!(found, ["NOT HOT: does not count"]);
    }
}
