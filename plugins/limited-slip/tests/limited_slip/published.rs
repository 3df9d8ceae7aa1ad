//! Published and hand-worked values through the plugin's own code.

use ringland_plugin_limited_slip::LimitedSlip;
use ringland_plugin_limited_slip::card::{reading, slot};
use ringland_plugin_limited_slip::pack::{chatter_index, spring_n};
use ringland_plugin_limited_slip::spec::Spec;
use ringland_trials::with_all;

use crate::differentials::{at, event, ground, prepared, spec};

/// DIN 2093, 50 mm series A: 12 000 N at three quarters of the cone height (from memory, as printed to three figures).
#[test]
fn the_spring_of_the_standard_has_its_load() {
    let changes = [
        ("spring_outer_m", 0.050),
        ("spring_inner_m", 0.0254),
        ("spring_thickness_m", 3.0e-3),
        ("spring_height_m", 1.1e-3),
        ("spring_deflection_m", 0.825e-3),
    ];
    let spec = spec(&with_all::<LimitedSlip>(&ground(), &changes));
    assert!((spring_n(&spec, 0.0) / 12_000.0 - 1.0).abs() < 0.005);
    // 8 faces of friction 0.10 at 45.5 mm
    let pack = prepared(with_all::<LimitedSlip>(&ground(), &changes));
    let breakaway = pack.forecast(&pack.begin(), &event()).readings[reading::BREAKAWAY].median[0];
    assert!((breakaway / 436.8 - 1.0).abs() < 0.005, "{breakaway}");
}

/// Textbook oscillator m = 1, c = 0.5, k = 400, N = 100 (stick-slip by a falling friction): it is stable at a slope of -0.004 s/m and not at -0.006,
/// index 0.8 and 1.2; growth -0.05 and +0.05 1/s. Here the pack's lever makes 100 N at a radius of 1 m.
#[test]
fn growth_of_the_side_is_the_textbook_one() {
    let mut spec: Spec = spec(&ground());
    let gain = 0.5 * spec.faces * spring_n(&spec, 0.0) * spec.radius_m() * spec.radius_m();
    spec.chatter_torque_n_m = 0.0;
    spec.side.driven_kg_m2 = gain / 100.0;
    spec.side.load_kg_m2 = f64::INFINITY;
    spec.side.stiffness_n_m = 400.0 * gain / 100.0;
    spec.side.damping_n_m_s = 0.5 * gain / 100.0;
    for (slope_s_m, index, growth_per_s) in [(-0.004, 0.8, -0.05), (-0.006, 1.2, 0.05)] {
        spec.slope_s_m = slope_s_m;
        assert!((chatter_index(&spec, 1.0, 0.0) - index).abs() < 1e-12);
        let growth = spec.side.growth_rate_per_s(gain * slope_s_m).unwrap();
        assert!((growth - growth_per_s).abs() < 1e-12, "{growth}");
    }
}

/// Archard by hand: k F s over the area of a face, for all faces. 6.65e-15 m2/N, the springs' force alone, 600 s at a difference of 2 rad/s, oil and
/// faces at 110 degC less what the slip heats.
#[test]
fn wear_is_archards() {
    let specimen = with_all::<LimitedSlip>(&ground(), &[("cooling_w_m2_k", 2.0e4)]);
    let spec = spec(&specimen);
    let duty = at(10.0, 0.0, 2.0);
    let sliding_m = 0.0455 * 1.0 * 600.0;
    let force_n = spring_n(&spec, 0.0);
    let cold_m = 8.0 * 6.65e-15 * force_n * sliding_m / spec.face.area_m2();
    let worn_m = prepared(specimen).after(&duty)[slot::STACK_WEAR];
    // The default oil is 5 K cooler than the wear's temperature: e^(-5/50), and the faces a fraction of a kelvin warmer.
    let factor = worn_m / cold_m;
    assert!((factor / (-0.1_f64).exp() - 1.0).abs() < 0.01, "{factor}");
}

/// Heat over wear: 6.65e-15 m2/N at a friction of 0.10 is a volume of 66 mm3/MJ, within the 10 to 200 of common practice (no source).
#[test]
fn wear_for_heat_is_of_the_usual_order() {
    let spec = spec(&ground());
    let mm3_mj = spec.pair_wear_m2_n() / spec.friction * 1e9 * 1e6;
    assert!((10.0..200.0).contains(&mm3_mj), "{mm3_mj}");
}
