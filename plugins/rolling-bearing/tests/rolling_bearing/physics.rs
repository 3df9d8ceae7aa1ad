//! What the model is built to show.

use ringland_plugin::Duty;
use ringland_plugin_rolling_bearing::RollingBearing;
use ringland_plugin_rolling_bearing::card::{mechanism, reading, slot};
use ringland_plugin_rolling_bearing::shaft::load;
use ringland_plugin_rolling_bearing::spec::Spec;
use ringland_trials::{Record, driveline, with_all};

use crate::sets::{self, Prepared, event, on_hub, on_pinion, on_shaft};

fn used(row: &[f64]) -> f64 {
    row[slot::FATIGUE] + row[slot::FATIGUE + 1]
}

fn edited(channel: &str, value: f64) -> Duty {
    Record::edit::<RollingBearing>(&event())
        .channel(channel, value)
        .duty()
}

/// Statics by hand. Input shaft: mesh force 2T/d with separation, shared by the lever. Output shaft: the same forces, thrust turned
/// round. Hub in a corner: the bearing inboard takes the moment of the side force.
#[test]
fn loads_of_the_places() {
    let spec = Spec::read(&sets::shaft()).unwrap();
    let at = load(&spec, 1, 440.0);
    let mesh_n = 880.0 / 0.0523 / 0.349_f64.cos();
    assert!((at.radial_n[0] / (mesh_n * (1.0 - 0.125 / 0.18)) - 1.0).abs() < 1e-9);
    assert!((at.radial_n[0] + at.radial_n[1] - mesh_n).abs() < 1e-6 && at.axial_n == 0.0);
    let mut output = sets::shaft();
    output.choices[0] = 1;
    let output = ringland_trials::with::<RollingBearing>(&output, "helix_angle_rad", 0.3);
    let thrust = load(&Spec::read(&output).unwrap(), 1, 440.0).axial_n;
    assert!((thrust + 880.0 / 0.0523 * 0.3_f64.tan()).abs() < 1e-6);
    let hub = Spec::read(&sets::hub()).unwrap();
    let corner = load(&hub, 0, 8.0);
    let vertical_n = 2845.0 + 193.0 * 8.0;
    let side_n = vertical_n * 8.0 / 9.806_65;
    let b_n = (vertical_n * 0.03 - side_n * 0.31) / 0.085;
    assert!((corner.axial_n - side_n).abs() < 1e-9);
    assert!((corner.radial_n[1] - b_n.abs()).abs() < 1e-6);
    assert!((corner.radial_n[0] - (vertical_n - b_n).abs()).abs() < 1e-6);
}

/// A pinion on drive is pushed onto its head bearing, on coast it is pulled off.
#[test]
fn a_pinion_is_pushed_and_pulled() {
    let spec = Spec::read(&sets::pinion()).unwrap();
    let (drive, coast) = (load(&spec, 0, 600.0), load(&spec, 0, -600.0));
    assert!(drive.axial_n > 0.0 && coast.axial_n < 0.0 && drive.axial_n > -coast.axial_n);
}

/// Levers on the rated life of the default event, printed for the read-me.
#[test]
fn levers_of_oil_and_dirt() {
    for (name, set, oil, usual_k) in [
        ("shaft", on_shaft(), "gearbox_oil_temp_k", 368.15),
        ("pinion", on_pinion(), "axle_oil_temp_k", 378.15),
        ("hub", on_hub(), "ambient_temp_k", 298.15),
    ] {
        let usual = used(&set.after(&event()));
        let times = |duty: &Duty| used(&set.after(duty)) / usual;
        let (cool, hot) = (
            times(&edited(oil, usual_k - 15.0)),
            times(&edited(oil, usual_k + 15.0)),
        );
        let (twice, four) = (
            times(&edited("contamination_factor", 2.0)),
            times(&edited("contamination_factor", 4.0)),
        );
        println!(
            "{name}: life used x {cool:.2} at -15 K, {hot:.2} at +15 K; {twice:.2} and {four:.2} with two and four times the debris"
        );
        assert!(cool < 1.0 && hot > 1.0 && twice > 1.0 && four > twice);
    }
}

/// Clearance that has grown concentrates the load of a shaft. Tapers under a pinion's loads hardly mind: what lost preload costs there is the mesh's,
/// not theirs.
#[test]
fn play_that_has_grown_costs_life() {
    for (set, at_least) in [(on_shaft(), 1.05), (on_pinion(), 1.0)] {
        let begun = set.begin_with(&[("play_growth_m", 30.0e-6)]);
        let (tight, loose) = (
            used(&set.after(&event())),
            used(&set.then(&begun, &event())),
        );
        println!("life used x {:.3} with 30 um more play", loose / tight);
        assert!(loose > at_least * tight);
        let preload = |row: &[f64]| {
            let forecast = set.forecast(row, &event());
            forecast.readings[reading::PRELOAD].median[0]
        };
        assert!(preload(&begun) <= preload(&set.begin()));
    }
}

/// Thin oil at low speed is told; at speed the same oil carries.
#[test]
fn a_thin_film_is_told() {
    let set = on_shaft();
    let notes = |rpm: f64| {
        let point = driveline::Point {
            minutes: 10.0,
            rpm,
            torque_n_m: 100.0,
            gear: 3,
            slip_rad_s: 0.0,
        };
        let record = driveline::record::<RollingBearing>(&[point]);
        let hot = record.channel("gearbox_oil_temp_k", 413.15).duty();
        let notes = set.forecast(&set.begin(), &hot).notes;
        notes.iter().any(|note| note.field == "event.oil")
    };
    assert!(notes(900.0) && !notes(7000.0));
}

/// Kerbs beyond the static rating dent a hub: the spall comes sooner afterwards, at the same rated life used.
#[test]
fn dents_lower_the_life_afterwards() {
    let set = on_hub();
    let hits: Vec<[f64; 2]> = vec![[0.01, 380.0]; 20];
    let rows: Vec<&[f64]> = hits.iter().map(<[f64; 2]>::as_slice).collect();
    let kerbs = driveline::record::<RollingBearing>(&[])
        .shocks("impact", &rows)
        .duty();
    let dented = set.after(&kerbs);
    assert_eq!(dented[slot::DENTS], 20.0);
    assert!(
        dented[slot::DENTED] + dented[slot::DENTED + 1] > 0.1,
        "{dented:?}"
    );
    let risk =
        |row: &[f64]| set.forecast(row, &event()).mechanisms[mechanism::FATIGUE].risk_next_event;
    assert!(risk(&dented) > 1.05 * risk(&set.begin()));
    let (worn, fresh) = (set.then(&dented, &event()), set.after(&event()));
    assert_eq!(worn[slot::FATIGUE], fresh[slot::FATIGUE]);
    assert!(worn[slot::SPALL] > fresh[slot::SPALL]);
}

/// Grease ages with heat, oil does not; a coasting shaft in neutral carries nothing.
#[test]
fn grease_and_neutral() {
    let hotter = edited("ambient_temp_k", 318.15);
    let (usual, hot) = (on_hub().after(&event()), on_hub().after(&hotter));
    println!(
        "grease used in an event {:.1e}, 20 K hotter {:.1e}",
        usual[slot::GREASE],
        hot[slot::GREASE]
    );
    assert!(
        hot[slot::GREASE] > usual[slot::GREASE] && on_shaft().after(&hotter)[slot::GREASE] == 0.0
    );
    let idle = driveline::duty::<RollingBearing>(&[driveline::Point {
        minutes: 60.0,
        rpm: 3000.0,
        torque_n_m: 300.0,
        gear: 0,
        slip_rad_s: 0.0,
    }]);
    let row = on_shaft().after(&idle);
    assert!(used(&row) == 0.0 && row[slot::TURNS] > 1.7e5);
    assert_eq!(on_pinion().after(&idle)[slot::TURNS], 0.0);
}

/// Every kind of bearing runs at its place: rollers instead of balls on the shaft, tapers in the hub, a pinion on angular balls, an output shaft.
#[test]
fn every_kind_runs() {
    let rollers = {
        let mut specimen = sets::shaft();
        specimen.choices[1] = 3;
        specimen
    };
    let output = {
        let mut specimen = sets::shaft();
        specimen.choices[0] = 1;
        specimen
    };
    let tapers = {
        let mut specimen = sets::hub();
        specimen.choices[1] = 2;
        specimen
    };
    let balls = {
        let mut specimen = sets::pinion();
        specimen.choices[1] = 1;
        specimen
    };
    for specimen in [rollers, output, tapers, balls] {
        let set = Prepared::new(specimen);
        let row = set.after(&event());
        assert!(used(&row) > 0.0 && used(&row) < 2.0, "{row:?}");
    }
}

/// ISO 281: at the same load, film and fatigue limit the rated life goes with the third power of C for balls, with its 10/3th for rollers.
#[test]
fn life_goes_with_the_power_of_the_rating() {
    for (set, power) in [(on_shaft(), 3.0), (on_pinion(), 10.0 / 3.0)] {
        let ratings = ["a_rating_n", "b_rating_n"];
        let doubled = ratings.map(|name| {
            let usual = ringland_trials::value::<RollingBearing>(&set.specimen, name);
            (name, 2.0 * usual)
        });
        let stronger = set.with(with_all::<RollingBearing>(&set.specimen, &doubled));
        let gain = used(&set.after(&event())) / used(&stronger.after(&event()));
        assert!((gain / 2.0_f64.powf(power) - 1.0).abs() < 1e-9, "{gain}");
    }
}
