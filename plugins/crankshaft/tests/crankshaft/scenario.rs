//! Untreated and treated cranks.

use std::sync::OnceLock;

use ringland_mechanics::fatigue::ResidualProfile;
use ringland_plugin::{Duty, Model, Specimen, default_specimen};
use ringland_plugin_crankshaft::Crankshaft;
use ringland_trials::engine::{self, EVENT, Point};

/// A crank with its map.
pub type Prepared = ringland_trials::Prepared<Crankshaft>;

/// A duty of operating points, warm, a little fuel in the oil.
pub fn duty(points: &[Point]) -> Duty {
    let record = engine::record::<Crankshaft>(points).channel("oil_temp_k", 379.0);
    record.channel("fuel_dilution_fraction", 0.001).duty()
}

pub fn event() -> Duty {
    duty(&EVENT)
}

pub fn untreated() -> Specimen {
    default_specimen(&Crankshaft::card())
}

/// Nitrided: 700 HV at the surface, 0.3 mm case, compression of 500 `MPa` that fades to the case depth and a small tension below; journals of a lower wear
/// coefficient (0.4 of the bare one's). Ranges from memory (300 to 800 `MPa`, 650 to 1100 HV, 0.15 to 0.5 mm); not fitted to a life.
pub fn nitrided() -> Specimen {
    let mut specimen = untreated();
    let fillet = &mut specimen.surfaces[0];
    (fillet.values[0], fillet.values[2]) = (6.87e9, 0.3e-3);
    fillet.depth_m = vec![0.0, 0.1e-3, 0.2e-3, 0.3e-3, 0.4e-3, 0.6e-3, 1.5e-3];
    fillet.residual_stress_pa = vec![-5.0e8, -4.4e8, -2.8e8, -0.8e8, 0.2e8, 0.25e8, 0.0];
    let journal = &mut specimen.surfaces[1];
    (journal.values[0], journal.values[2]) = (6.87e9, 0.4 * 4.4e-17);
    specimen
}

/// Peened fillets: compression of 600 `MPa` at 50 um over some 0.2 mm, rougher. From memory, not fitted.
pub fn peened() -> Specimen {
    let mut specimen = untreated();
    let depths: Vec<f64> = (0..=20).map(|k| 2.0e-5 * f64::from(k)).collect();
    let profile = ResidualProfile::peened(-6.0e8, 5.0e-5, 1.6e-4, 1.9e-2, &depths).unwrap();
    let fillet = &mut specimen.surfaces[0];
    (fillet.depth_m, fillet.residual_stress_pa) = profile.columns();
    fillet.values[1] = 1.0e-6;
    specimen
}

/// Rolled fillets: compression of 600 `MPa` at 0.4 mm reaching 1.2 mm, smooth. From memory, not fitted.
pub fn rolled() -> Specimen {
    let mut specimen = untreated();
    let fillet = &mut specimen.surfaces[0];
    fillet.depth_m = vec![0.0, 0.2e-3, 0.4e-3, 0.7e-3, 1.0e-3, 1.3e-3, 2.0e-3];
    fillet.residual_stress_pa = vec![-4.0e8, -5.5e8, -6.0e8, -4.5e8, -1.5e8, 0.3e8, 0.5e8];
    fillet.values[1] = 0.2e-6;
    specimen
}

pub fn plain() -> &'static Prepared {
    static MAP: OnceLock<Prepared> = OnceLock::new();
    MAP.get_or_init(|| {
        let plain = Prepared::new(untreated()).within(5000.0);
        plain.ahead(&[0.0, 1.0, 10.0, 30.0])
    })
}
