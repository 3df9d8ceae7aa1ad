//! An invented engine and event, bare and coated shells.

use std::f64::consts::PI;
use std::sync::OnceLock;

use ringland_plugin::{Duty, ForecastRequest, Model, Rate, Specimen, Table, default_specimen};
use ringland_plugin_plain_bearing::PlainBearing;
use ringland_plugin_plain_bearing::card::{mechanism, slot};

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

/// Channels, in card order.
pub const OIL_TEMP: usize = 2;
pub const PRESSURE: usize = 3;
pub const FUEL: usize = 4;
pub const CONTAMINATION: usize = 5;
pub const KNOCK: usize = 6;

/// A duty of operating points: oil at 110 °C, 5 bar, clean.
pub fn duty(points: &[(f64, f64, f64)]) -> Duty {
    let n = points.len();
    let nothing = |fields: usize| Table {
        columns: vec![vec![]; fields],
    };
    Duty {
        duration_s: points.iter().map(|p| 60.0 * p.2).sum(),
        time_s: points.iter().map(|p| 60.0 * p.2).collect(),
        points: vec![
            points.iter().map(|p| p.0 * PI / 30.0).collect(),
            points.iter().map(|p| p.1).collect(),
            vec![383.15; n],
            vec![4.9e5; n],
            vec![0.0; n],
            vec![1.0; n],
            vec![0.0; n],
        ],
        cycles: vec![],
        shocks: vec![nothing(3), nothing(3), nothing(2)],
        mates: vec![],
    }
}

/// The default event: six starts, no dips.
pub fn event() -> Duty {
    let mut event = duty(&EVENT);
    event.shocks[2] = starts(6);
    event
}

/// Starts of 1.5 s on warm oil.
pub fn starts(count: usize) -> Table {
    Table {
        columns: vec![vec![1.5; count], vec![350.0; count]],
    }
}

/// Dips of so many seconds to a pressure at 7000 1/min.
pub fn dips(count: usize, seconds: f64, pressure_pa: f64) -> Table {
    Table {
        columns: vec![
            vec![seconds; count],
            vec![pressure_pa; count],
            vec![7000.0 * PI / 30.0; count],
        ],
    }
}

pub fn bare() -> Specimen {
    default_specimen(&PlainBearing::card())
}

/// The same shells with 10 µm of polymer coat, by surface numbers only: boundary friction × 0.6, wear coefficient × 0.7, coat 10 µm,
/// roughness and fatigue strength as they were. The changes are from memory of bench reports (friction −40 %; wear −65 % in start and
/// stop, −30 % over all); they were not fitted to a life.
pub fn coated() -> Specimen {
    let mut specimen = bare();
    let shell = &mut specimen.surfaces[0].values;
    shell[1] *= 0.6;
    shell[2] *= 0.7;
    shell[5] = 10.0e-6;
    specimen
}

/// A main bearing of the same engine: 54 mm, 20 mm.
pub fn main_bearing() -> Specimen {
    let card = PlainBearing::card();
    let mut specimen = bare();
    specimen.choices[0] = 1;
    let mut set = |name: &str, value: f64| {
        specimen.numbers[card.number_index(name).unwrap()] = value;
    };
    set("journal_diameter_m", 0.054);
    set("film_width_m", 0.020);
    set("diametral_clearance_m", 60.0e-6);
    specimen
}

/// A specimen with its map.
pub struct Prepared {
    pub specimen: Specimen,
    pub map: Vec<f64>,
}

impl Prepared {
    pub fn new(specimen: Specimen) -> Self {
        let map = PlainBearing::prepare(specimen.clone()).unwrap();
        Self { specimen, map }
    }

    pub fn begin(&self) -> Vec<f64> {
        let opening = vec![None; slot::COUNT];
        PlainBearing::begin(self.specimen.clone(), self.map.clone(), opening).unwrap()
    }

    pub fn advance(&self, condition: &[f64], duties: &[Duty]) -> Vec<Vec<f64>> {
        let (specimen, map) = (self.specimen.clone(), self.map.clone());
        PlainBearing::advance(specimen, map, condition.to_vec(), duties.to_vec()).unwrap()
    }

    pub fn after(&self, duty: &Duty) -> Vec<f64> {
        self.advance(&self.begin(), std::slice::from_ref(duty))
            .remove(0)
    }

    pub fn forecast(&self, condition: Vec<f64>, event: Duty) -> ringland_plugin::LifeForecast {
        self.answer(request(condition, event))
    }

    pub fn answer(&self, request: ForecastRequest) -> ringland_plugin::LifeForecast {
        PlainBearing::forecast(self.specimen.clone(), self.map.clone(), request).unwrap()
    }
}

pub fn request(condition: Vec<f64>, event: Duty) -> ForecastRequest {
    let rate = |m: &ringland_plugin::Mechanism| Rate {
        ln_mean: 0.0,
        ln_sd: m.rate_ln_sd,
    };
    let mechanisms = PlainBearing::card().mechanisms;
    assert_eq!(mechanisms.len(), mechanism::COUNT);
    ForecastRequest {
        condition,
        event,
        rates: mechanisms.iter().map(rate).collect(),
        samples: 512,
        seed: 1,
        horizon_events: 400.0,
        ahead_events: vec![0.0, 1.0, 3.0, 6.0],
    }
}

pub fn plain() -> &'static Prepared {
    static MAP: OnceLock<Prepared> = OnceLock::new();
    MAP.get_or_init(|| Prepared::new(bare()))
}

pub fn polymer() -> &'static Prepared {
    static MAP: OnceLock<Prepared> = OnceLock::new();
    MAP.get_or_init(|| Prepared::new(coated()))
}

pub fn mains() -> &'static Prepared {
    static MAP: OnceLock<Prepared> = OnceLock::new();
    MAP.get_or_init(|| Prepared::new(main_bearing()))
}

/// Median of lives.
pub fn median(lives: &[f64]) -> f64 {
    ringland_plugin::quantile(&mut lives.to_vec(), 0.5).unwrap()
}
