//! Rings and bore against themselves.

use ringland_plugin::{Finding, error, warning};

use super::Rings;

impl Rings {
    /// Everything in which rings, bore and engine do not fit each other.
    pub fn check(&self) -> Vec<Finding> {
        let mut findings = Vec::new();
        gaps(self, &mut findings);
        faces(self, &mut findings);
        engine(self, &mut findings);
        ring_and_surface(self, &mut findings);
        findings
    }
}

/// Least gap between ring ends at running temperature \[m\].
const LEAST_HOT_GAP_M: f64 = 5.0e-5;

fn gaps(rings: &Rings, findings: &mut Vec<Finding>) {
    let spec = &rings.pack;
    for (name, cold_m) in [
        ("top_gap_m", spec.top_gap_m),
        ("second_gap_m", spec.second_gap_m),
    ] {
        let hot_m = spec.hot_gap_m(cold_m);
        if hot_m < LEAST_HOT_GAP_M {
            let closes_m = cold_m - hot_m;
            findings.push(error(
                name,
                cold_m,
                &format!("at least {:.2e} m: {closes_m:.2e} m closes at running temperature, 5e-5 m must be left", closes_m + LEAST_HOT_GAP_M),
                "open the gap: butting ring ends seize the engine",
            ));
        } else if cold_m < rings.minimum_gap_m {
            let expected = format!(
                "at least {} m, the ring maker's minimum",
                rings.minimum_gap_m
            );
            findings.push(error(
                name,
                cold_m,
                &expected,
                "open the gap to the ring maker's minimum",
            ));
        }
    }
}

const RING_NAMES: [&str; 3] = ["top", "second", "rail"];

fn faces(rings: &Rings, findings: &mut Vec<Finding>) {
    let spec = &rings.pack;
    for (name, ring) in RING_NAMES.iter().zip(&spec.rings) {
        let half_m = 0.5 * ring.width_m;
        if ring.crown_radius_m < 2.0 * half_m {
            findings.push(error(
                &format!("{name}_crown_radius_m"),
                ring.crown_radius_m,
                &format!("more than the width of the face, {} m", ring.width_m),
                "trace the face again; a sharp edge cannot be entered as a barrel",
            ));
        }
        if ring.crown_offset_m.abs() > 0.9 * half_m {
            findings.push(error(
                &format!("{name}_crown_offset_m"),
                ring.crown_offset_m,
                &format!(
                    "within {} m of the middle: a crown on the face",
                    0.9 * half_m
                ),
                "measure from the middle of the face, positive upwards",
            ));
        }
    }
}

fn engine(rings: &Rings, findings: &mut Vec<Finding>) {
    let spec = &rings.pack;
    let shortest_m = 1.1 * spec.stroke_m;
    if spec.rod_length_m < shortest_m {
        findings.push(error(
            "rod_length_m",
            spec.rod_length_m,
            &format!("at least {shortest_m:.4} m for this stroke"),
            "measure between centres; check the stroke",
        ));
    }
    let piston_speed = spec.stroke_m * spec.rated_speed_rad_s / std::f64::consts::PI;
    if piston_speed > 28.0 {
        findings.push(warning(
            "rated_speed_rad_s",
            spec.rated_speed_rad_s,
            "a mean piston speed of at most 28 m/s",
            "check the speed's unit (rad/s) and the stroke",
        ));
    }
}

fn ring_and_surface(rings: &Rings, findings: &mut Vec<Finding>) {
    let spec = &rings.pack;
    // Free gap less closed gap that gives the tension: p = E m/(7.07 B (B/t - 1)^3), textbook, from memory.
    let top = &spec.rings[0];
    let pressure_pa = 2.0 * top.tension_n / (spec.bore_m * top.width_m);
    let slender = spec.bore_m / rings.top_thickness_m - 1.0;
    let opening = pressure_pa * 7.07 * slender.powi(3) / spec.ring_modulus_pa;
    if !(0.02..=0.35).contains(&opening) {
        findings.push(warning(
            "top_tension_n",
            top.tension_n,
            &format!(
                "a tension that a free gap of 2 to 35 % of the bore gives; this one needs {:.0} %",
                100.0 * opening
            ),
            "check tension, axial width and radial thickness against each other",
        ));
    }
    let bore = &spec.bore;
    let sigma_m = bore.rq_m.hypot(top.rq_m);
    let number = sigma_m * bore.asperity_radius_m * bore.asperity_density_per_m2;
    if !(0.005..=0.3).contains(&number) {
        findings.push(warning(
            "bore.asperity_density_per_m2",
            bore.asperity_density_per_m2,
            &format!(
                "density x radius x roughness of 0.005 to 0.3 (usual 0.03 to 0.05), not {number:.3}"
            ),
            "keep the default radius and density unless both were measured",
        ));
    }
}
