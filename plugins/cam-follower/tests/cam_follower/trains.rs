//! The trains that are tried.

use ringland_engine::valvetrain::{FLAT, SLIDER};
use ringland_mechanics::cam::EventLift;
use ringland_plugin::{Model, Specimen, default_specimen};
use ringland_plugin_cam_follower::CamFollower;
use ringland_trials::{changed, value, with};

/// The card's default: a finger with a roller, an aggressive cam.
pub fn roller() -> Specimen {
    default_specimen(&CamFollower::card())
}

/// A bucket on the valve: ratio 1, 10 mm of lift, a wider lobe.
pub fn bucket() -> Specimen {
    let mut specimen = lifted(&roller(), 10.0e-3, [8, 14, 22]);
    specimen.choices[0] = FLAT;
    for (name, value) in [
        ("rocker_ratio", 1.0),
        ("base_radius_m", 0.0185),
        ("contact_width_m", 0.012),
        ("train_stiffness_n_m", 3.0e7),
    ] {
        specimen = with::<CamFollower>(&specimen, name, value);
    }
    specimen
}

/// A finger with a sliding pad.
pub fn slider() -> Specimen {
    let mut specimen = lifted(&roller(), 11.0e-3, [8, 14, 22]);
    specimen.choices[0] = SLIDER;
    for (name, value) in [("follower_radius_m", 0.04), ("contact_width_m", 0.012)] {
        specimen = with::<CamFollower>(&specimen, name, value);
    }
    specimen
}

/// A pushrod train with a roller: heavier parts, a stronger spring.
pub fn heavy_roller() -> Specimen {
    let mut specimen = lifted(&roller(), 14.0e-3, [8, 16, 26]);
    for (name, value) in [
        ("rocker_ratio", 1.7),
        ("moving_mass_kg", 0.22),
        ("wire_m", 5.0e-3),
        ("coil_m", 0.026),
        ("active_coils", 5.0),
        ("seat_load_n", 800.0),
        ("base_radius_m", 0.019),
    ] {
        specimen = with::<CamFollower>(&specimen, name, value);
    }
    specimen
}

/// The same surfaces superfinished: finer, rounder summits, nearly run in.
pub fn superfinished(specimen: &Specimen) -> Specimen {
    let mut specimen = specimen.clone();
    for (name, value) in [
        ("lobe.rq_m", 0.08e-6),
        ("follower.rq_m", 0.08e-6),
        ("lobe.boundary_friction", 0.085),
        ("follower.boundary_friction", 0.085),
        ("lobe.running_in_multiplier", 1.5),
        ("follower.running_in_multiplier", 1.5),
        ("lobe.asperity_radius_m", 5.0e-5),
    ] {
        specimen = with::<CamFollower>(&specimen, name, value);
    }
    specimen
}

/// The same surfaces peened with fine particles: harder, dimples that hold oil, a lower wear coefficient.
pub fn fine_peened(specimen: &Specimen) -> Specimen {
    let mut specimen = specimen.clone();
    for surface in ["lobe", "follower"] {
        for (property, by) in [
            ("hardness_pa", 1.08),
            ("boundary_friction", 0.8),
            ("wear_coefficient_m2_n", 0.55),
        ] {
            specimen = changed::<CamFollower>(&specimen, &format!("{surface}.{property}"), by);
        }
    }
    specimen
}

/// The follower with a carbon coating of 2 µm, its lobe superfinished.
pub fn coated(specimen: &Specimen) -> Specimen {
    let mut specimen = superfinished(specimen);
    for (name, value) in [
        ("follower.coating_thickness_m", 2.0e-6),
        ("follower.hardness_pa", 2.0e10),
        ("follower.boundary_friction", 0.075),
        (
            "follower.wear_coefficient_m2_n",
            0.2 * value::<CamFollower>(&specimen, "follower.wear_coefficient_m2_n"),
        ),
    ] {
        specimen = with::<CamFollower>(&specimen, name, value);
    }
    specimen
}

/// The same train with another lift, its largest and the exponents of its lobe.
pub fn lifted(specimen: &Specimen, max_lift_m: f64, exponents: [i32; 3]) -> Specimen {
    let law = EventLift {
        max_lift_m,
        half_duration_rad: 1.20,
        ramp_height_m: 0.35e-3,
        ramp_slope_m: 0.9e-3,
        exponents,
    };
    law.check().unwrap();
    let (angle_rad, lift_m) = law.table(181);
    let mut specimen = specimen.clone();
    specimen.tables[0].columns = vec![angle_rad, lift_m];
    specimen
}
