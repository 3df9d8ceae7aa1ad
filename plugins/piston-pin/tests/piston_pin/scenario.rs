//! An invented engine and event, untreated and treated pins.

use std::f64::consts::PI;
use std::sync::OnceLock;

use ringland_plugin::{Duty, ForecastRequest, Model, Rate, Specimen, Table, default_specimen};
use ringland_plugin_piston_pin::PistonPin;
use ringland_plugin_piston_pin::card::slot;

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
            vec![378.15; n],
            vec![0.0; n],
            vec![1.0; n],
            vec![0.0; n],
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

/// The event with one channel held at a value.
pub fn event_with(channel: usize, value: f64) -> Duty {
    let mut event = event();
    event.points[channel] = vec![value; EVENT.len()];
    event
}

pub fn untreated() -> Specimen {
    default_specimen(&PistonPin::card())
}

/// Pin superfinished and coated with hard carbon: Rq 0.10 to 0.05 µm, friction × 0.75, 2 µm of coating that wears a twentieth as fast as the pin,
/// bush wear coefficient × 0.6 against it: surface numbers only. The changes are assumed; they were not fitted to a life.
pub fn treated() -> Specimen {
    let mut specimen = untreated();
    specimen.surfaces[0].values = vec![0.05e-6, 0.09, 1.0e-19, 2.0e-6];
    specimen.surfaces[1].values[1] *= 0.6;
    specimen
}

/// A specimen with its map.
pub struct Prepared {
    pub specimen: Specimen,
    pub map: Vec<f64>,
}

impl Prepared {
    pub fn new(specimen: Specimen) -> Self {
        let map = PistonPin::prepare(specimen.clone()).unwrap();
        Self { specimen, map }
    }

    pub fn begin(&self) -> Vec<f64> {
        let opening = vec![None; slot::COUNT];
        PistonPin::begin(self.specimen.clone(), self.map.clone(), opening).unwrap()
    }

    pub fn advance(&self, condition: &[f64], duties: &[Duty]) -> Vec<Vec<f64>> {
        let (specimen, map) = (self.specimen.clone(), self.map.clone());
        PistonPin::advance(specimen, map, condition.to_vec(), duties.to_vec()).unwrap()
    }

    /// Condition after one record.
    pub fn after(&self, duty: &Duty) -> Vec<f64> {
        self.advance(&self.begin(), std::slice::from_ref(duty))
            .remove(0)
    }

    pub fn forecast(&self, condition: Vec<f64>, event: Duty) -> ringland_plugin::LifeForecast {
        self.answer(request(condition, event))
    }

    pub fn answer(&self, request: ForecastRequest) -> ringland_plugin::LifeForecast {
        PistonPin::forecast(self.specimen.clone(), self.map.clone(), request).unwrap()
    }
}

pub fn request(condition: Vec<f64>, event: Duty) -> ForecastRequest {
    let rate = |mechanism: &ringland_plugin::Mechanism| Rate {
        ln_mean: 0.0,
        ln_sd: mechanism.rate_ln_sd,
    };
    ForecastRequest {
        condition,
        event,
        rates: PistonPin::card().mechanisms.iter().map(rate).collect(),
        samples: 512,
        seed: 1,
        horizon_events: 400.0,
        ahead_events: vec![0.0, 1.0, 3.0, 8.0],
    }
}

pub fn plain() -> &'static Prepared {
    static MAP: OnceLock<Prepared> = OnceLock::new();
    MAP.get_or_init(|| Prepared::new(untreated()))
}

pub fn coated() -> &'static Prepared {
    static MAP: OnceLock<Prepared> = OnceLock::new();
    MAP.get_or_init(|| Prepared::new(treated()))
}

/// Median of lives.
pub fn median(lives: &[f64]) -> f64 {
    ringland_plugin::quantile(&mut lives.to_vec(), 0.5).unwrap()
}
