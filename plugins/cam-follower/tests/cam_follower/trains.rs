//! The trains that are tried.

use std::sync::OnceLock;

use ringland_engine::valvetrain::{FLAT, SLIDER};
use ringland_mechanics::cam::EventLift;
use ringland_plugin::{Duty, Model, Specimen, default_specimen};
use ringland_plugin_cam_follower::CamFollower;
use ringland_trials::{changed, engine, value, with};

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

/// The default train with a heavier rocker and a spring that holds it.
pub fn heavy_roller() -> Specimen {
    let mut specimen = roller();
    for (name, value) in [
        ("moving_mass_kg", 0.15),
        ("wire_m", 4.3e-3),
        ("coil_m", 0.0235),
        ("seat_load_n", 600.0),
    ] {
        specimen = with::<CamFollower>(&specimen, name, value);
    }
    specimen
}

/// A train with its map.
pub type Prepared = ringland_trials::Prepared<CamFollower>;

pub fn prepared(specimen: Specimen) -> Prepared {
    Prepared::new(specimen).within(2000.0)
}

pub fn rolling() -> &'static Prepared {
    static MAP: OnceLock<Prepared> = OnceLock::new();
    MAP.get_or_init(|| prepared(roller()))
}

pub fn flat() -> &'static Prepared {
    static MAP: OnceLock<Prepared> = OnceLock::new();
    MAP.get_or_init(|| prepared(bucket()))
}

pub fn event() -> Duty {
    engine::event::<CamFollower>()
}

/// The same surfaces superfinished: finer, rounder summits, nearly run in.
pub fn superfinished(specimen: &Specimen) -> Specimen {
    let mut specimen = specimen.clone();
    for (name, value) in [
        ("lobe.rq_m", 0.08e-6),
        ("follower_face.rq_m", 0.08e-6),
        ("lobe.boundary_friction", 0.085),
        ("follower_face.boundary_friction", 0.085),
        ("lobe.running_in_multiplier", 1.5),
        ("follower_face.running_in_multiplier", 1.5),
        ("lobe.asperity_radius_m", 5.0e-5),
    ] {
        specimen = with::<CamFollower>(&specimen, name, value);
    }
    specimen
}

/// The same surfaces peened with fine particles: harder, dimples that hold oil, a lower wear coefficient.
pub fn fine_peened(specimen: &Specimen) -> Specimen {
    let mut specimen = specimen.clone();
    for surface in ["lobe", "follower_face"] {
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
        ("follower_face.coating_thickness_m", 2.0e-6),
        ("follower_face.hardness_pa", 2.0e10),
        ("follower_face.boundary_friction", 0.075),
        (
            "follower_face.wear_coefficient_m2_n",
            0.2 * value::<CamFollower>(&specimen, "follower_face.wear_coefficient_m2_n"),
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
