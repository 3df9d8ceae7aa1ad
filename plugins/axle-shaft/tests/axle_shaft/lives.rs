//! Lives over the default event against common practice (no source): shafts planned for a season of 20 events, two when peened, and a policy that one in ten has not
//! got there. The strength is calibrated to the first of these; what treatment, load and diameter do to it is not.

use ringland_plugin_axle_shaft::AxleShaft;
use ringland_plugin_axle_shaft::card::mechanism;
use ringland_plugin_axle_shaft::condition::Shaft;
use ringland_trials::{changed, driveline, first, median, print_lives, quantile, with};

use crate::scenario::{PEENED_PA, Prepared, bare, event, peened, treated, untreated};

fn spline_b10(prepared: &Prepared) -> f64 {
    let forecast = prepared.forecast(&prepared.begin(), &event());
    quantile(&forecast.mechanisms[mechanism::SPLINE].lives_events, 0.1)
}

#[test]
fn lives_over_the_default_event() {
    print_lives("untreated", bare(), &event());
    print_lives("peened", peened(), &event());
    let lives = [bare(), peened()].map(|prepared| {
        let forecast = prepared.forecast(&prepared.begin(), &event());
        quantile(&first(&forecast), 0.1)
    });
    println!(
        "B10 of the first of all: untreated {:.1}, peened {:.1}",
        lives[0], lives[1]
    );
    // Calibrated: fatigue of the spline, 20 events.
    assert!((spline_b10(bare()) / 20.0 - 1.0).abs() < 0.02);
    // Not calibrated: peened twice that, give or take a third.
    let ratio = lives[1] / lives[0];
    assert!((1.5..2.7).contains(&ratio), "{ratio}");
}

/// The spline root ends a shaft's life first (common practice, no source, names groove and fillet next), then wear.
#[test]
fn the_spline_root_governs() {
    let forecast = bare().forecast(&bare().begin(), &event());
    let median = |index: usize| median(&forecast.mechanisms[index].lives_events);
    let spline = median(mechanism::SPLINE);
    assert!(spline < median(mechanism::WEAR));
    for index in [mechanism::GROOVE, mechanism::SHOULDER, mechanism::TWIST] {
        assert!(median(index) >= 1000.0, "{index}");
    }
}

/// What counts: a millimetre, the load, the share of a locked differential, deeper residual stress. Printed for the README; the directions are asserted.
#[test]
fn what_counts() {
    let usual = spline_b10(bare());
    let told = |name: &str, life: f64| {
        println!(
            "{name}: B10 of the spline root {life:.1} events, x {:.2}",
            life / usual
        );
        life
    };
    told("untreated", usual);
    for (name, by) in [
        ("27", 27.0 / 28.0),
        ("29", 29.0 / 28.0),
        ("30", 30.0 / 28.0),
    ] {
        let specimen = changed::<AxleShaft>(&untreated(), "spline_module_m", by);
        let life = told(
            &format!("all of the spline to {name}/28"),
            spline_b10(&Prepared::new(specimen)),
        );
        assert!((life > usual) == (by > 1.0));
    }
    // 15 % more load: at slope 7 a factor of 2.7 in life by the amplitudes alone; the set that the hardest torque leaves changes the means as well.
    let share = |share: f64| {
        let specimen = with::<AxleShaft>(&untreated(), "torque_share", share);
        told(
            &format!("share {share}"),
            spline_b10(&Prepared::new(specimen)),
        )
    };
    let (more, locked) = (share(0.575), share(0.65));
    assert!((2.0..5.0).contains(&(usual / more)) && locked < more);
    let mut deep = treated();
    for surface in &mut deep.surfaces {
        surface.residual_stress_pa = PEENED_PA
            .map(|stress| stress - 2.0e8 * f64::from(stress < 0.0))
            .to_vec();
    }
    let fine = told("peened harder by 200 MPa", spline_b10(&Prepared::new(deep)));
    assert!(fine > told("peened", spline_b10(peened())));
    shares_of_the_cycles();
}

/// What each class of cycles does to a root that the event has set.
fn shares_of_the_cycles() {
    let set = bare().after(&event());
    let whole = bare().then(&set, &event())[0] - set[0];
    let mut sum = 0.0;
    for class in driveline::CYCLES {
        let mut one = event();
        let cycles = &mut one.cycles[0];
        for (count, range) in cycles.counts.iter_mut().zip(&cycles.ranges) {
            *count *= f64::from(u8::from(*range == class[0]));
        }
        let share = (bare().then(&set, &one)[0] - set[0]) / whole;
        println!(
            "{} cycles from nothing to {} N.m on this shaft: {share:.2} of the damage",
            class[2],
            0.5 * class[0]
        );
        sum += share;
    }
    assert!((sum - 1.0).abs() < 1e-9, "{sum}");
}

/// Stress concentrations of the default shaft; the root's is within what practice takes, 1.4 to 2.5 (common practice, no source). None is calibrated.
#[test]
fn concentrations() {
    let shaft = Shaft::new(&untreated(), &bare().map).unwrap();
    println!("spline root in shear alone: {:.3}", bare().map[1]);
    for (name, site) in ["spline root", "snap-ring groove", "shoulder"]
        .iter()
        .zip(&shaft.sites)
    {
        println!(
            "{name}: Kt {:.3}, in fatigue {:.3}, elastic stress at 3000 N.m {:.0} MPa",
            site.concentration,
            site.fatigue_factor,
            1e-6 * site.elastic_pa(3000.0)
        );
    }
    assert!((1.4..2.5).contains(&shaft.sites[0].concentration));
}
