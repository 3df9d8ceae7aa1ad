//! An invented engine and event, untreated and treated cranks.

use std::f64::consts::PI;
use std::sync::OnceLock;

use ringland_mechanics::fatigue::ResidualProfile;
use ringland_plugin::{
    Duty, ForecastRequest, LifeForecast, Model, Rate, Specimen, Table, default_specimen,
};
use ringland_plugin_crankshaft::Crankshaft;

/// Engine speed \[1/min\], torque \[N·m\], minutes: 170 min of practice, qualifying and race.
pub const EVENT: [(f64, f64, f64); 8] = [
    (1500.0, 20.0, 11.9),
    (4000.0, 90.0, 20.4),
    (5500.0, 180.0, 32.3),
    (6250.0, 440.0, 27.2),
    (7250.0, 425.0, 37.4),
    (8000.0, 401.0, 13.6),
    (6500.0, -45.0, 25.5),
    (8400.0, 300.0, 1.7),
];

/// A duty of operating points, warm.
pub fn duty(points: &[(f64, f64, f64)]) -> Duty {
    let n = points.len();
    Duty {
        duration_s: points.iter().map(|p| 60.0 * p.2).sum(),
        time_s: points.iter().map(|p| 60.0 * p.2).collect(),
        points: vec![
            points.iter().map(|p| p.0 * PI / 30.0).collect(),
            points.iter().map(|p| p.1).collect(),
            vec![379.0; n],
            vec![0.001; n],
            vec![1.0; n],
        ],
        cycles: vec![],
        shocks: vec![Table {
            columns: vec![vec![], vec![], vec![]],
        }],
        mates: vec![],
    }
}

pub fn event() -> Duty {
    duty(&EVENT)
}

pub fn untreated() -> Specimen {
    default_specimen(&Crankshaft::card())
}

/// Sets a number of the spec.
pub fn set(specimen: &mut Specimen, name: &str, value: f64) {
    let index = Crankshaft::card().number_index(name).unwrap();
    specimen.numbers[index] = value;
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

/// A specimen with its map.
pub struct Prepared {
    pub specimen: Specimen,
    pub map: Vec<f64>,
}

impl Prepared {
    pub fn new(specimen: Specimen) -> Self {
        let map = Crankshaft::prepare(specimen.clone()).unwrap();
        Self { specimen, map }
    }

    /// Another surface on the same geometry: the map holds stresses only.
    pub fn with(&self, specimen: Specimen) -> Self {
        Self {
            specimen,
            map: self.map.clone(),
        }
    }

    pub fn begin(&self) -> Vec<f64> {
        let slots = Crankshaft::card().condition.len();
        Crankshaft::begin(self.specimen.clone(), self.map.clone(), vec![None; slots]).unwrap()
    }

    pub fn advance(&self, condition: &[f64], duties: &[Duty]) -> Vec<Vec<f64>> {
        Crankshaft::advance(
            self.specimen.clone(),
            self.map.clone(),
            condition.to_vec(),
            duties.to_vec(),
        )
        .unwrap()
    }

    pub fn after(&self, duty: &Duty) -> Vec<f64> {
        self.advance(&self.begin(), std::slice::from_ref(duty))
            .remove(0)
    }

    pub fn forecast(&self, condition: Vec<f64>, event: Duty) -> LifeForecast {
        self.ask(request(condition, event))
    }

    pub fn ask(&self, request: ForecastRequest) -> LifeForecast {
        Crankshaft::forecast(self.specimen.clone(), self.map.clone(), request).unwrap()
    }
}

pub fn request(condition: Vec<f64>, event: Duty) -> ForecastRequest {
    let rates = Crankshaft::card().mechanisms;
    let rate = |ln_sd| Rate {
        ln_mean: 0.0,
        ln_sd,
    };
    ForecastRequest {
        condition,
        event,
        rates: rates.iter().map(|m| rate(m.rate_ln_sd)).collect(),
        samples: 512,
        seed: 1,
        horizon_events: 5000.0,
        ahead_events: vec![0.0, 1.0, 10.0, 30.0],
    }
}

pub fn plain() -> &'static Prepared {
    static MAP: OnceLock<Prepared> = OnceLock::new();
    MAP.get_or_init(|| Prepared::new(untreated()))
}

/// Quantile of lives.
pub fn quantile(lives: &[f64], p: f64) -> f64 {
    ringland_plugin::quantile(&mut lives.to_vec(), p).unwrap()
}
