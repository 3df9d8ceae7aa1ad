//! Lives over the default event, as the read-me quotes them.

use ringland_plugin::Specimen;
use ringland_plugin_cam_follower::CamFollower;
use ringland_plugin_cam_follower::card::{mechanism, reading};
use ringland_plugin_cam_follower::turn::STATIONS;
use ringland_trials::{Record, quantile};

use crate::trains;

/// Median lives by each mechanism, and of the first of both wears.
struct Lives {
    medians: [f64; mechanism::COUNT],
    first_wear: f64,
}

fn lives(name: &str, specimen: Specimen) -> Lives {
    let prepared = trains::prepared(specimen);
    let forecast = prepared.forecast(&prepared.begin(), &trains::event());
    let of = |index: usize, p: f64| quantile(&forecast.mechanisms[index].lives_events, p);
    let lobe = forecast.mechanisms[mechanism::LOBE_WEAR]
        .lives_events
        .iter();
    let follower = &forecast.mechanisms[mechanism::FOLLOWER_WEAR].lives_events;
    let first: Vec<f64> = lobe.zip(follower).map(|(a, b)| a.min(*b)).collect();
    let lives = Lives {
        medians: std::array::from_fn(|index| of(index, 0.5)),
        first_wear: quantile(&first, 0.5),
    };
    println!(
        "{name}: medians {:.1?}, B10 of pitting {:.0}, first wear {:.1}, severity {:.2}, pressure {:.2} GPa, film ratio {:.2}",
        lives.medians,
        of(mechanism::LOBE_PITTING, 0.1),
        lives.first_wear,
        forecast.readings[reading::SCUFF].median[1],
        1e-9 * forecast.readings[reading::PEAK_PRESSURE].median[0],
        forecast.readings[reading::NOSE_FILM].median[0],
    );
    lives
}

/// Untreated is calibrated; that treated by surface numbers lasts longer than two seasons is not (common practice, no source: 36 to 48 events).
#[test]
fn lives_of_a_bucket() {
    let bucket = trains::bucket();
    let plain = lives("bucket", bucket.clone());
    assert!(
        (23.0..25.0).contains(&plain.first_wear),
        "{}",
        plain.first_wear
    );
    let peened = lives("bucket, fine-particle peened", trains::fine_peened(&bucket));
    assert!((1.5..2.5).contains(&(peened.first_wear / plain.first_wear)));
    for (how, specimen) in [
        ("superfinished", trains::superfinished(&bucket)),
        ("coated, lobe superfinished", trains::coated(&bucket)),
    ] {
        let treated = lives(&format!("bucket, {how}"), specimen);
        assert!(treated.first_wear > 1.5 * plain.first_wear, "{how}");
        assert!(treated.medians[mechanism::SCUFF] >= plain.medians[mechanism::SCUFF]);
    }
}

/// A roller hardly wears: it pits. Finer surfaces stretch the life to pitting two to four times (common practice, no source).
#[test]
fn lives_of_rollers() {
    for (name, train) in [
        ("roller", trains::roller()),
        ("heavy roller", trains::heavy_roller()),
    ] {
        let plain = lives(name, train.clone());
        let fine = lives(
            &format!("{name}, superfinished"),
            trains::superfinished(&train),
        );
        assert!(plain.first_wear > 500.0);
        let gain = fine.medians[mechanism::LOBE_PITTING] / plain.medians[mechanism::LOBE_PITTING];
        println!("{name}: superfinished pits {gain:.1} times as late");
        assert!((2.0..4.5).contains(&gain), "{gain}");
    }
}

/// A pad takes on a few millimetres what the lobe takes all round: bare, it ends first.
#[test]
fn lives_of_a_pad() {
    let pad = trains::slider();
    let plain = lives("slider", pad.clone());
    assert!(plain.medians[mechanism::FOLLOWER_WEAR] < plain.medians[mechanism::LOBE_WEAR]);
    let coated = lives("slider, coated, lobe superfinished", trains::coated(&pad));
    assert!(coated.medians[mechanism::LOBE_WEAR] > plain.medians[mechanism::LOBE_WEAR]);
}

/// What oil does to the wear of a bucket's lobe and to the pitting of a roller's, over the event.
#[test]
fn levers_of_the_oil() {
    let done = |prepared: &trains::Prepared, oil_k: f64, fuel: f64| {
        let record = Record::edit::<CamFollower>(&trains::event());
        let record = record.channel("oil_temp_k", oil_k);
        let row = prepared.after(&record.channel("fuel_dilution_fraction", fuel).duty());
        let most = |from: usize| {
            row[from..from + STATIONS]
                .iter()
                .copied()
                .fold(0.0, f64::max)
        };
        [most(0), most(STATIONS)]
    };
    let of = |index: usize, oil_k: f64, fuel: f64| {
        let prepared = [trains::flat(), trains::rolling()][index];
        done(prepared, oil_k, fuel)[index] / done(prepared, 378.15, 0.0)[index]
    };
    for (name, oil_k, fuel) in [
        ("-10 K", 368.15, 0.0),
        ("+10 K", 388.15, 0.0),
        ("+20 K", 398.15, 0.0),
        ("3 % of fuel", 378.15, 0.03),
        ("5 % of fuel", 378.15, 0.05),
    ] {
        let (wear, pitting) = (of(0, oil_k, fuel), of(1, oil_k, fuel));
        println!(
            "{name}: wear of a bucket's lobe x {wear:.2}, pitting of a roller's x {pitting:.2}"
        );
        let worse = oil_k > 378.15 || fuel > 0.0;
        assert!((wear > 1.0) == worse && (pitting >= 1.0 || !worse));
    }
}
