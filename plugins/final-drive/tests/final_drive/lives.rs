//! Lives over the default event, as the read-me quotes them.

use ringland_plugin::Specimen;
use ringland_plugin_final_drive::FinalDrive;
use ringland_plugin_final_drive::card::{mechanism, reading, slot};
use ringland_plugin_final_drive::condition::Model;
use ringland_plugin_final_drive::duty;
use ringland_trials::{Record, median, print_lives, quantile};

use crate::pairs;

struct Lives {
    medians: [f64; mechanism::COUNT],
    /// Events after which one pair in a hundred has pitted by the scatter of strength alone.
    one_percent_pitted: f64,
    /// The same of its roots.
    one_percent_cracked: f64,
    /// Of backlash and preload, the first.
    first_setting: f64,
    /// Backlash gained in twelve events \[m\].
    season_m: f64,
}

fn lives(name: &str, specimen: Specimen) -> Lives {
    let prepared = pairs::prepared(specimen).ahead(&[0.0, 1.0, 12.0]);
    let forecast = prepared.forecast(&prepared.begin(), &pairs::event());
    let added = prepared.after(&pairs::event());
    let model = Model::new(&prepared.specimen, &prepared.map).unwrap();
    let event = duty::record(&model, &pairs::event()).unwrap().total();
    let of = |index: usize| forecast.mechanisms[index].lives_events.as_slice();
    let both = of(mechanism::BACKLASH).iter().zip(of(mechanism::PRELOAD));
    let first: Vec<f64> = both.map(|(a, b)| a.min(*b)).collect();
    let lives = Lives {
        medians: std::array::from_fn(|index| median(of(index))),
        one_percent_pitted: 1.0 / event.weak_pitting[0],
        one_percent_cracked: 1.0 / event.weak_roots[0].max(event.weak_roots[1]),
        first_setting: median(&first),
        season_m: forecast.readings[reading::BACKLASH_GROWTH].median[2],
    };
    println!(
        "{name}: medians {:.1?}, 1 % pitted {:.1}, 1 % cracked {:.0}, first setting {:.1}, 12 events +{:.1} um, severity {:.2}, contact {:.0} MPa, root {:.0} MPa, film ratio {:.2}",
        lives.medians,
        lives.one_percent_pitted,
        lives.one_percent_cracked,
        lives.first_setting,
        1e6 * lives.season_m,
        added[slot::SCUFF],
        1e-6 * forecast.readings[reading::CONTACT_STRESS].median[0],
        1e-6 * forecast.readings[reading::ROOT_STRESS].median[0],
        forecast.readings[reading::FILM_RATIO].median[0],
    );
    lives
}

/// What was calibrated: pitting of one in a hundred, backlash over a season, preload.
#[test]
fn lives_of_the_default_pair() {
    let plain = lives("hypoid, as lapped", pairs::hypoid());
    assert!(
        (16.5..17.5).contains(&plain.one_percent_pitted),
        "{}",
        plain.one_percent_pitted
    );
    assert!(
        (53.0e-6..55.0e-6).contains(&plain.season_m),
        "{}",
        plain.season_m
    );
    let preload = plain.medians[mechanism::PRELOAD];
    assert!((17.0..17.7).contains(&preload), "{preload}");
    print_lives::<FinalDrive>("hypoid", pairs::ground(), &pairs::event());
}

/// Treated by surface numbers, nothing fitted. Common practice, no source: superfinished flanks pit two to three times as late; here where one in a hundred has,
/// whose flanks bear loads nearer to their static strength, which no finish raises, less.
#[test]
fn lives_of_treated_pairs() {
    for (name, pair) in [
        ("hypoid", pairs::hypoid()),
        ("spiral bevel", pairs::spiral_bevel()),
    ] {
        let plain = lives(name, pair.clone());
        let fine = lives(
            &format!("{name}, superfinished"),
            pairs::superfinished(&pair),
        );
        let peened = lives(&format!("{name}, roots peened"), pairs::peened(&pair));
        let particles = lives(
            &format!("{name}, flanks peened with fine particles"),
            pairs::fine_peened(&pair),
        );
        let gain = fine.one_percent_pitted / plain.one_percent_pitted;
        let roots = peened.one_percent_cracked / plain.one_percent_cracked;
        let median =
            fine.medians[mechanism::DRIVE_PITTING] / plain.medians[mechanism::DRIVE_PITTING];
        println!(
            "{name}: superfinished pits {gain:.2} times as late (the median pair {median:.2}), peened roots crack {roots:.2} times as late, fine particles gain {:.2} in backlash",
            particles.medians[mechanism::BACKLASH] / plain.medians[mechanism::BACKLASH],
        );
        assert!((1.1..4.0).contains(&gain), "{gain}");
        assert!(
            (1.05_f64.powf(8.7378)..1.25_f64.powf(8.7378)).contains(&roots),
            "{roots}"
        );
        assert!(particles.medians[mechanism::BACKLASH] > plain.medians[mechanism::BACKLASH]);
        assert!(fine.medians[mechanism::BACKLASH] > plain.medians[mechanism::BACKLASH]);
    }
}

/// What oil, launches and the setting do over the event.
#[test]
fn levers() {
    let usual = pairs::ground().after(&pairs::event());
    let ratio = |duty: &ringland_plugin::Duty| {
        let row = pairs::ground().after(duty);
        [
            slot::DRIVE_PITTING,
            slot::PINION_ROOT,
            slot::BACKLASH_GROWTH,
            slot::SCUFF,
        ]
        .map(|index| row[index] / usual[index])
    };
    for (name, oil_k, dirt) in [
        ("-15 K", 363.15, 1.0),
        ("+15 K", 393.15, 1.0),
        ("+25 K", 403.15, 1.0),
        ("dirt 3", 378.15, 3.0),
    ] {
        let record = Record::edit::<FinalDrive>(&pairs::event()).channel("axle_oil_temp_k", oil_k);
        let found = ratio(&record.channel("contamination_factor", dirt).duty());
        println!("oil {name}: pitting, root, backlash, severity x {found:.3?}");
        assert!((found[2] > 1.0) == (oil_k > 378.15 || dirt > 1.0));
    }
    for launches in [20.0, 100.0] {
        let rows = [[8000.0, 4000.0, launches]];
        let hard = Record::edit::<FinalDrive>(&pairs::event()).cycles("axle_torque_n_m", &rows);
        let found = ratio(&hard.duty());
        println!(
            "{launches} cycles to 8000 N.m more: pitting, root, backlash, severity x {found:.3?}"
        );
        assert!(found[1] > 1.0);
    }
    // What ISO 10300-1 has for crowned flanks whose pattern was seen at light load, both gears held on two sides.
    let standard = ringland_trials::with::<FinalDrive>(&pairs::hypoid(), "face_load_factor", 1.575);
    assert!(lives("hypoid, face factor of 1.575", standard).one_percent_pitted < 17.0);
    let forecast = pairs::ground().forecast(&pairs::ground().begin(), &pairs::event());
    let b10 = quantile(
        &forecast.mechanisms[mechanism::DRIVE_PITTING].lives_events,
        0.1,
    );
    println!("B10 of pitting with all spreads {b10:.1}");
}
