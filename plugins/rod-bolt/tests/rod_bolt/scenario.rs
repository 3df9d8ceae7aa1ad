//! An invented engine and event.

use std::f64::consts::PI;
use std::sync::OnceLock;

use ringland_plugin::{
    Duty, ForecastRequest, LifeForecast, Model, Rate, Specimen, Table, default_specimen, quantile,
};
use ringland_plugin_rod_bolt::RodBolt;
use ringland_plugin_rod_bolt::card::slot;
use ringland_plugin_rod_bolt::condition::Bolts;

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
    Duty {
        duration_s: points.iter().map(|p| 60.0 * p.2).sum(),
        time_s: points.iter().map(|p| 60.0 * p.2).collect(),
        points: vec![
            points.iter().map(|p| p.0 * PI / 30.0).collect(),
            points.iter().map(|p| p.1).collect(),
            vec![379.0; points.len()],
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

/// The event with a missed shift: 0.3 s at a speed \[1/min\], the engine dragged.
pub fn with_missed_shift(rpm: f64) -> Duty {
    let mut event = event();
    event.shocks[0] = Table {
        columns: vec![vec![0.3], vec![rpm * PI / 30.0], vec![-60.0]],
    };
    event
}

pub fn stretched() -> Specimen {
    default_specimen(&RodBolt::card())
}

/// The default with some numbers changed.
pub fn changed(changes: &[(&str, f64)]) -> Specimen {
    let card = RodBolt::card();
    let mut specimen = stretched();
    for (name, value) in changes {
        specimen.numbers[card.number_index(name).unwrap()] = *value;
    }
    specimen
}

/// Tightened by torque.
pub fn torqued() -> Specimen {
    let mut specimen = stretched();
    specimen.choices[0] = 1;
    specimen
}

/// A specimen with its map.
pub struct Prepared {
    pub specimen: Specimen,
    pub map: Vec<f64>,
}

impl Prepared {
    pub fn new(specimen: Specimen) -> Self {
        let map = RodBolt::prepare(specimen.clone()).unwrap();
        Self { specimen, map }
    }

    /// Another specimen of the same engine and cap: the map is the same.
    pub fn with(&self, specimen: Specimen) -> Self {
        Self {
            specimen,
            map: self.map.clone(),
        }
    }

    pub fn bolts(&self) -> Bolts<'_> {
        Bolts::new(&self.specimen, &self.map).unwrap()
    }

    pub fn begin(&self) -> Vec<f64> {
        let opening = vec![None; slot::COUNT];
        RodBolt::begin(self.specimen.clone(), self.map.clone(), opening).unwrap()
    }

    /// Bolts whose median preload was measured.
    pub fn begin_at(&self, preload_n: f64) -> Vec<f64> {
        let mut opening = vec![None; slot::COUNT];
        opening[slot::ASSEMBLY_PRELOAD] = Some(preload_n);
        RodBolt::begin(self.specimen.clone(), self.map.clone(), opening).unwrap()
    }

    pub fn advance(&self, condition: &[f64], duties: &[Duty]) -> Vec<Vec<f64>> {
        let (specimen, map) = (self.specimen.clone(), self.map.clone());
        RodBolt::advance(specimen, map, condition.to_vec(), duties.to_vec()).unwrap()
    }

    pub fn after(&self, condition: &[f64], duty: &Duty) -> Vec<f64> {
        self.advance(condition, std::slice::from_ref(duty))
            .remove(0)
    }

    pub fn rework(&self, condition: &[f64], operation: u32) -> Vec<f64> {
        let (specimen, map) = (self.specimen.clone(), self.map.clone());
        RodBolt::rework(specimen, map, condition.to_vec(), operation).unwrap()
    }

    pub fn forecast(&self, condition: &[f64], event: Duty) -> LifeForecast {
        self.ask(request(condition, event))
    }

    pub fn ask(&self, request: ForecastRequest) -> LifeForecast {
        RodBolt::forecast(self.specimen.clone(), self.map.clone(), request).unwrap()
    }
}

pub fn request(condition: &[f64], event: Duty) -> ForecastRequest {
    let rates = RodBolt::card().mechanisms.into_iter().map(|m| Rate {
        ln_mean: 0.0,
        ln_sd: m.rate_ln_sd,
    });
    ForecastRequest {
        condition: condition.to_vec(),
        event,
        rates: rates.collect(),
        samples: 512,
        seed: 1,
        horizon_events: 1000.0,
        ahead_events: vec![0.0, 1.0, 3.0, 6.0],
    }
}

pub fn plain() -> &'static Prepared {
    static MAP: OnceLock<Prepared> = OnceLock::new();
    MAP.get_or_init(|| Prepared::new(stretched()))
}

/// Median of lives.
pub fn median(lives: &[f64]) -> f64 {
    quantile(&mut lives.to_vec(), 0.5).unwrap()
}
