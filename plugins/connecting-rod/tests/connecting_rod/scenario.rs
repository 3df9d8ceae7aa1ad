//! An invented engine and event, untreated and peened rods.

use std::f64::consts::PI;
use std::sync::OnceLock;

use ringland_mechanics::fatigue::ResidualProfile;
use ringland_plugin::{
    Duty, ForecastRequest, LifeForecast, Model, Rate, Specimen, Table, default_specimen,
};
use ringland_plugin_connecting_rod::ConnectingRod;

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

/// A duty of operating points without knock.
pub fn duty(points: &[(f64, f64, f64)]) -> Duty {
    Duty {
        duration_s: points.iter().map(|p| 60.0 * p.2).sum(),
        time_s: points.iter().map(|p| 60.0 * p.2).collect(),
        points: vec![
            points.iter().map(|p| p.0 * PI / 30.0).collect(),
            points.iter().map(|p| p.1).collect(),
            vec![0.0; points.len()],
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

/// The event with an over-rev: seconds, 1/min, torque.
pub fn with_over_rev(seconds: f64, rpm: f64, torque_n_m: f64) -> Duty {
    let mut event = event();
    event.shocks[0].columns = vec![vec![seconds], vec![rpm * PI / 30.0], vec![torque_n_m]];
    event
}

pub fn untreated() -> Specimen {
    default_specimen(&ConnectingRod::card())
}

/// Depths at which a peened surface is given \[m\].
pub fn depths() -> Vec<f64> {
    [
        0.0, 10.0, 25.0, 50.0, 75.0, 100.0, 130.0, 160.0, 200.0, 300.0, 1000.0, 3000.0,
    ]
    .map(|um: f64| 1.0e-6 * um)
    .to_vec()
}

/// Eye and shoulder peened: surface numbers only. −600 `MPa` at 50 µm and about −450 `MPa` at the surface, gone by 0.16 mm, balanced over 8 mm; Ra stays at
/// 1.6 µm. Bores, cap face, spot faces and threads are masked. Usual values of conventional peening (from memory); not fitted to a life.
pub fn treated() -> Specimen {
    let mut specimen = untreated();
    for surface in &mut specimen.surfaces[..2] {
        let peened = ResidualProfile::peened(-6.2e8, 4.5e-5, 1.1e-4, 8.0e-3, &depths()).unwrap();
        (surface.depth_m, surface.residual_stress_pa) = peened.columns();
    }
    specimen
}

/// A specimen with its map.
pub struct Prepared {
    pub specimen: Specimen,
    pub map: Vec<f64>,
}

impl Prepared {
    pub fn new(specimen: Specimen) -> Self {
        let map = ConnectingRod::prepare(specimen.clone()).unwrap();
        Self { specimen, map }
    }

    pub fn begin(&self) -> Vec<f64> {
        ConnectingRod::begin(self.specimen.clone(), self.map.clone(), vec![None; 9]).unwrap()
    }

    pub fn advance(&self, condition: &[f64], duties: &[Duty]) -> Vec<Vec<f64>> {
        let condition = condition.to_vec();
        ConnectingRod::advance(
            self.specimen.clone(),
            self.map.clone(),
            condition,
            duties.to_vec(),
        )
        .unwrap()
    }

    /// Condition of a new rod after a duty.
    pub fn after(&self, duty: &Duty) -> Vec<f64> {
        self.advance(&self.begin(), std::slice::from_ref(duty))
            .remove(0)
    }

    pub fn asked(&self, request: ForecastRequest) -> LifeForecast {
        ConnectingRod::forecast(self.specimen.clone(), self.map.clone(), request).unwrap()
    }

    pub fn forecast(&self, condition: Vec<f64>, event: Duty) -> LifeForecast {
        self.asked(request(condition, event))
    }
}

pub fn request(condition: Vec<f64>, event: Duty) -> ForecastRequest {
    let rate = Rate {
        ln_mean: 0.0,
        ln_sd: 0.45,
    };
    ForecastRequest {
        condition,
        event,
        rates: vec![rate; 3],
        samples: 512,
        seed: 1,
        horizon_events: 2000.0,
        ahead_events: vec![0.0, 1.0, 3.0, 6.0],
    }
}

pub fn plain() -> &'static Prepared {
    static MAP: OnceLock<Prepared> = OnceLock::new();
    MAP.get_or_init(|| Prepared::new(untreated()))
}

pub fn peened() -> &'static Prepared {
    static MAP: OnceLock<Prepared> = OnceLock::new();
    MAP.get_or_init(|| Prepared::new(treated()))
}

/// A number of the spec changed.
pub fn changed(specimen: &Specimen, name: &str, by: f64) -> Specimen {
    let mut specimen = specimen.clone();
    specimen.numbers[ConnectingRod::card().number_index(name).unwrap()] *= by;
    specimen
}

pub fn quantile(lives: &[f64], p: f64) -> f64 {
    ringland_plugin::quantile(&mut lives.to_vec(), p).unwrap()
}

/// Lives of the rod: the first of its mechanisms, draw by draw.
pub fn first(forecast: &LifeForecast) -> Vec<f64> {
    (0..forecast.mechanisms[0].lives_events.len())
        .map(|draw| {
            let lives = forecast.mechanisms.iter().map(|m| m.lives_events[draw]);
            lives.fold(f64::INFINITY, f64::min)
        })
        .collect()
}
