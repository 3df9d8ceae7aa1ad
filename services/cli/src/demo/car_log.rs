//! The logger of a car: 10 Hz, slow channels in between, bursts of 100 Hz when something happens.

use std::io::Write;

use rand::SeedableRng;
use rand_chacha::ChaCha8Rng;

use super::DemoError;
use super::flaws::{Cell, Flaws, Row, Spoiler};
use super::log_plan::LogPlan;
use super::rear::{Rear, Wheels};
use super::timeline::{CAR_STEP_S, Truth, run};

const HEADERS: [&str; 23] = [
    "Time",
    "nEngine",
    "MEngine",
    "Gear",
    "Map",
    "vCar",
    "nClutchSlip",
    "MClutch",
    "pOil",
    "pManifold",
    "TOil",
    "TWater",
    "TAir",
    "FuelInOil",
    "DustPast",
    "MAxle",
    "nWheelL",
    "nWheelR",
    "nDiff",
    "aLat",
    "aVert",
    "TGearbox",
    "TAxle",
];
const UNITS: [&str; 23] = [
    "s", "1/min", "N.m", "-", "-", "km/h", "1/min", "N.m", "bar", "bar abs", "degC", "degC",
    "degC", "%", "-", "N.m", "1/min", "1/min", "1/min", "m/s2", "m/s2", "degC", "degC",
];
const GEAR: usize = 3;
const MAP: usize = 4;
const OIL_PRESSURE: usize = 8;

/// Usual fuel in the oil \[%\].
pub const USUAL_FUEL_IN_OIL_PERCENT: f64 = 1.2;
const LOST_TOOTH_RPM: f64 = 65_535.0;
/// Position of the engine-map switch.
const MAP_POSITION: f64 = 2.0;

/// Writes one car's log.
///
/// # Errors
/// [`DemoError::Write`] when the file cannot be written.
pub(super) fn write(
    plan: &LogPlan,
    car: &str,
    seed: u64,
    out: impl Write,
) -> Result<(), DemoError> {
    let mut out = csv::WriterBuilder::new().flexible(true).from_writer(out);
    let (mut headers, mut units) = (HEADERS, UNITS);
    if plan.mishap.gear_and_map_exchanged {
        headers.swap(GEAR, MAP);
    }
    if plan.mishap.wrong_unit_line {
        units[OIL_PRESSURE] = "psi";
    }
    out.write_record([format!(
        "Track logger; car {car}; {}; {}",
        plan.event, plan.unit
    )])?;
    out.write_record(headers)?;
    out.write_record(units)?;

    let mut random = ChaCha8Rng::seed_from_u64(seed);
    let flaws = Flaws::draw(plan.minutes.total() * 60.0, &mut random);
    let mut log = CarLog {
        plan,
        spoiler: Spoiler::new(flaws),
        random: ChaCha8Rng::seed_from_u64(seed.wrapping_add(1)),
        rear: Rear::new(seed.wrapping_add(2), plan.ambient_c),
        row: 0,
        slipped: false,
        text: Vec::new(),
        out,
    };
    run(plan, CAR_STEP_S, &mut random, &mut |truth| log.put(truth))?;
    log.out.flush().map_err(csv::Error::from)?;
    Ok(())
}

struct CarLog<'a, W: Write> {
    plan: &'a LogPlan,
    spoiler: Spoiler,
    random: ChaCha8Rng,
    rear: Rear,
    row: u64,
    slipped: bool,
    text: Vec<u8>,
    out: csv::Writer<W>,
}

impl<W: Write> CarLog<'_, W> {
    fn put(&mut self, truth: &Truth) -> Result<(), DemoError> {
        self.row += 1;
        let wheels = self.rear.at(truth);
        match self.spoiler.row(truth.time_s, CAR_STEP_S, &mut self.random) {
            Row::Gone => return Ok(()),
            Row::Blank => {
                self.number(truth.time_s, 2)?;
                return Ok(self
                    .out
                    .write_record(std::iter::repeat_n("", HEADERS.len() - 1))?);
            }
            Row::Written => {}
        }
        self.number(truth.time_s, 2)?;
        self.engine(truth)?;
        self.clutch(truth)?;
        self.fluids(truth)?;
        self.rear_end(&wheels)?;
        Ok(self.out.write_record(None::<&[u8]>)?)
    }

    /// Every row: engine speed, torque, gear. Every other row: road speed.
    fn engine(&mut self, truth: &Truth) -> Result<(), DemoError> {
        let moment = truth.moment;
        // Once in a while a lost tooth reads as full scale.
        let spike = self.row.is_multiple_of(40_009);
        let rpm = if spike {
            LOST_TOOTH_RPM
        } else {
            Spoiler::speed(moment.rpm, &mut self.random)
        };
        self.fast(rpm, 0)?;
        let torque = self.spoiler.noisy(moment.torque_n_m, &mut self.random);
        self.fast(torque, 1)?;
        self.fast(moment.gear as f64, 0)?;
        self.every(50, |_| MAP_POSITION, 0)?;
        self.every(
            2,
            |log| Spoiler::speed(3.6 * moment.speed_m_s, &mut log.random),
            1,
        )
    }

    /// Written while it slips, once more when it has stopped, and every second.
    fn clutch(&mut self, truth: &Truth) -> Result<(), DemoError> {
        let moment = truth.moment;
        let slips = moment.clutch_slip_rpm > 0.0;
        let rows = if slips || self.slipped { 1 } else { 10 };
        self.slipped = slips;
        self.every(rows, |_| moment.clutch_slip_rpm, 0)?;
        self.every(
            rows,
            |log| log.spoiler.noisy(moment.clutch_torque_n_m, &mut log.random),
            0,
        )
    }

    fn fluids(&mut self, truth: &Truth) -> Result<(), DemoError> {
        let truth = *truth;
        let noisy = |value: f64| move |log: &mut Self| log.spoiler.noisy(value, &mut log.random);
        self.every(if truth.burst { 1 } else { 2 }, noisy(truth.oil_bar), 2)?;
        self.every(5, noisy(truth.manifold_bar), 2)?;
        self.every(10, noisy(truth.oil_c), 1)?;
        self.every(
            10,
            |log| log.spoiler.coolant(truth.time_s, truth.water_c),
            1,
        )?;
        let mishap = &self.plan.mishap;
        let fuel_percent = mishap
            .fuel_in_oil_percent
            .unwrap_or(USUAL_FUEL_IN_OIL_PERCENT);
        let (ambient_c, dust) = (self.plan.ambient_c, f64::from(u8::from(mishap.dust)));
        self.every(50, |_| ambient_c, 0)?;
        self.every(50, |_| fuel_percent, 1)?;
        self.every(50, |_| dust, 0)
    }

    /// Torque, wheels and accelerations in every row, the oils once a second.
    fn rear_end(&mut self, wheels: &Wheels) -> Result<(), DemoError> {
        let noisy = |log: &mut Self, value| log.spoiler.noisy(value, log.rear.random());
        let torque_n_m = noisy(self, wheels.axle_torque_n_m);
        self.number(torque_n_m, 0)?;
        self.number(wheels.left_rpm, 1)?;
        self.number(wheels.right_rpm, 1)?;
        self.number(wheels.left_rpm - wheels.right_rpm, 1)?;
        let lateral_m_s2 = noisy(self, wheels.lateral_m_s2);
        self.number(lateral_m_s2, 2)?;
        self.number(wheels.vertical_m_s2, 1)?;
        self.every(10, |_| wheels.gearbox_c, 1)?;
        self.every(10, |_| wheels.axle_c, 1)
    }

    fn fast(&mut self, value: f64, decimals: usize) -> Result<(), DemoError> {
        match self.spoiler.cell(&mut self.random) {
            Cell::Good => self.number(value, decimals),
            Cell::Missing => Ok(self.out.write_field("")?),
            Cell::Garbage => Ok(self.out.write_field("ERR")?),
        }
    }

    fn every(
        &mut self,
        rows: u64,
        value: impl FnOnce(&mut Self) -> f64,
        decimals: usize,
    ) -> Result<(), DemoError> {
        if (self.row - 1).is_multiple_of(rows) {
            let value = value(self);
            self.number(value, decimals)
        } else {
            Ok(self.out.write_field("")?)
        }
    }

    fn number(&mut self, value: f64, decimals: usize) -> Result<(), DemoError> {
        self.text.clear();
        // Writing to a vector cannot fail; the error type only has to fit.
        write!(self.text, "{value:.decimals$}").map_err(csv::Error::from)?;
        Ok(self.out.write_field(&self.text)?)
    }
}
