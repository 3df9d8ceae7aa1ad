//! The attacks.

use ringland_plugin::{ForecastRequest, LifeForecast, Specimen};
use std::{
    collections::HashMap,
    hint::black_box,
    sync::atomic::{AtomicU32, Ordering},
};

#[derive(Clone, Copy, PartialEq)]
pub enum Attack {
    None,
    Panic,
    Hang,
    Hoard,
    Recurse,
    AliasedList,
    Clock,
    Random,
    Environment,
    File,
    Print,
    NanTable,
    NanCondition,
    ShortCondition,
    MissingRecord,
    Healing,
    OutOfRange,
    Remember,
    Unordered,
    RiskOfTwo,
    RiskAgainstLives,
    BeyondHorizon,
    HalfShares,
    NanLife,
    IdleWear,
    BatchWear,
    HorizonBlind,
    Rejuvenating,
    LimitBlind,
}

/// Attacks by name, in the order of the card's options.
pub const ATTACKS: [(&str, Attack); 29] = [
    ("none", Attack::None),
    ("panic", Attack::Panic),
    ("hang", Attack::Hang),
    ("hoard", Attack::Hoard),
    ("recurse", Attack::Recurse),
    ("aliased_list", Attack::AliasedList),
    ("clock", Attack::Clock),
    ("random", Attack::Random),
    ("environment", Attack::Environment),
    ("file", Attack::File),
    ("print", Attack::Print),
    ("nan_table", Attack::NanTable),
    ("nan_condition", Attack::NanCondition),
    ("short_condition", Attack::ShortCondition),
    ("missing_record", Attack::MissingRecord),
    ("healing", Attack::Healing),
    ("out_of_range", Attack::OutOfRange),
    ("remember", Attack::Remember),
    ("unordered", Attack::Unordered),
    ("risk_of_two", Attack::RiskOfTwo),
    ("risk_against_lives", Attack::RiskAgainstLives),
    ("beyond_horizon", Attack::BeyondHorizon),
    ("half_shares", Attack::HalfShares),
    ("nan_life", Attack::NanLife),
    // From here on nothing that the host can see in one answer: laws broken between answers.
    ("idle_wear", Attack::IdleWear),
    ("batch_wear", Attack::BatchWear),
    ("horizon_blind", Attack::HorizonBlind),
    ("rejuvenating", Attack::Rejuvenating),
    ("limit_blind", Attack::LimitBlind),
];

/// Calls seen by this instance: 1 in every call, if instances are fresh.
static CALLS: AtomicU32 = AtomicU32::new(0);

/// A test changes the last digit in the compiled plugin: 1 hangs in `card`, 2 hoards there.
static IN_CARD: &[u8] = b"attack in card: 0";

/// A test changes the last two digits in the compiled plugin: the card's default attack.
static DEFAULT: &[u8] = b"default attack: 00";

pub fn default_attack() -> u32 {
    let digits = black_box(DEFAULT).iter().rev().take(2);
    let place = digits.zip([1, 10]);
    place
        .map(|(digit, place)| u32::from(digit - b'0') * place)
        .sum()
}

pub fn in_card() {
    match black_box(IN_CARD).last() {
        Some(b'1') => hang(),
        Some(b'2') => hoard(),
        _ => {}
    }
}

impl Attack {
    pub fn of(specimen: &Specimen) -> Self {
        ATTACKS[specimen.choices[0] as usize].1
    }

    pub fn on_the_host(self) {
        match self {
            Self::Panic => panic!("a panic on purpose"),
            Self::Hang => hang(),
            Self::Hoard => hoard(),
            Self::Recurse => {
                black_box(recurse(u64::MAX));
            }
            Self::Clock => {
                black_box(std::time::SystemTime::now());
            }
            // A hash map takes its seed from the system's entropy.
            Self::Random => {
                black_box(HashMap::from([(1, 2)]));
            }
            Self::Environment => {
                black_box(std::env::var("PATH").ok());
            }
            Self::File => {
                black_box(std::fs::read("/etc/passwd").ok());
            }
            Self::Print => println!("hello"),
            _ => {}
        }
    }

    pub fn on_the_condition(self, mut rows: Vec<Vec<f64>>) -> Vec<Vec<f64>> {
        match self {
            Self::AliasedList => return aliased_list(),
            Self::NanCondition => rows[0][0] = f64::NAN,
            Self::ShortCondition => rows[0].clear(),
            Self::MissingRecord => drop(rows.pop()),
            Self::Healing => rows.last_mut().unwrap()[0] *= 0.1,
            Self::IdleWear => {
                for (record, row) in rows.iter_mut().enumerate() {
                    row[0] += 1e-7 * (record + 1) as f64;
                }
            }
            Self::BatchWear => {
                let records = rows.len() as f64;
                rows.iter_mut().for_each(|row| row[0] += 1e-7 * records);
            }
            Self::OutOfRange => rows[0][0] = 2.0,
            Self::Remember => {
                rows[0][0] += 1e-3 * f64::from(CALLS.fetch_add(1, Ordering::Relaxed));
            }
            _ => {}
        }
        rows
    }

    pub fn on_the_forecast(
        self,
        request: &ForecastRequest,
        mut forecast: LifeForecast,
    ) -> LifeForecast {
        let life = &mut forecast.mechanisms[0];
        match self {
            Self::Unordered => forecast.readings[0].low[0] = 1.0,
            Self::RiskOfTwo => life.risk_next_event = 2.0,
            Self::RiskAgainstLives => life.risk_next_event = 1.0 - life.risk_next_event,
            Self::BeyondHorizon => life.lives_events[0] = 1e12,
            Self::HalfShares => life.point_shares[0] *= 0.5,
            Self::NanLife => life.lives_events[0] = f64::NAN,
            Self::HorizonBlind => {
                life.lives_events.fill(request.horizon_events);
                life.lives_events[0] *= 0.5;
                life.risk_next_event = 0.0;
            }
            Self::Rejuvenating => {
                let longer = 1.5 + 1e4 * request.condition[0];
                let cut = longer.min(request.horizon_events);
                life.lives_events.fill(cut);
                life.risk_next_event = f64::from(u8::from(cut <= 1.0));
            }
            Self::LimitBlind => {
                let lives = life.lives_events.iter_mut();
                lives.for_each(|life| *life = (*life * 0.5).min(request.horizon_events));
                let ended = life
                    .lives_events
                    .iter()
                    .filter(|&&life| life <= 1.0)
                    .count();
                life.risk_next_event = ended as f64 / f64::from(request.samples);
            }
            _ => {}
        }
        forecast
    }
}

fn hang() {
    let mut turns = 0_u64;
    loop {
        turns = black_box(turns.wrapping_add(1));
    }
}

fn hoard() {
    let mut kept = Vec::new();
    loop {
        kept.push(black_box(vec![1_u8; 1 << 20]));
    }
}

/// Two calls in each, so that no optimiser makes a loop of it; nothing is kept in memory, so that
/// it is the stack of the engine that ends.
fn recurse(depth: u64) -> u64 {
    if depth == 0 {
        return 1;
    }
    recurse(depth - 1).wrapping_mul(recurse(depth / 2))
}

/// 100 000 rows that are all the same 8 MB of memory: the host is asked for 800 GB.
fn aliased_list() -> Vec<Vec<f64>> {
    let mut row = std::mem::ManuallyDrop::new(vec![0.0_f64; 1 << 20]);
    let (start, length) = (row.as_mut_ptr(), row.len());
    // SAFETY: none, on purpose: rows share memory, which no sound program does. They are handed
    // to the host and never dropped.
    let alias = |_| unsafe { Vec::from_raw_parts(start, length, length) };
    (0..100_000).map(alias).collect()
}
