//! Remaining life, readings and risk.

use ringland_plugin::{
    DamagePath, Duty, Finding, ForecastRequest, LifeForecast, MechanismLife, QUANTILES,
    ReadingPath, Spread, check_request, multipliers, past_limits, reading_paths, shares,
    standing_in, warning,
};

use crate::card::{self, mechanism, slot};
use crate::condition::{Model, Row, read};
use crate::constants as c;
use crate::duty::{self, Added};
use crate::law::clearance_m;
use crate::readings::{damages, limits, readings};

/// Forecasts.
///
/// # Errors
/// Everything wrong with the request.
pub fn forecast(
    model: &Model<'_>,
    request: &ForecastRequest,
) -> Result<LifeForecast, Vec<Finding>> {
    check_request(mechanism::COUNT, request)?;
    let now = read(&request.condition)?;
    let event = Event::new(model, &request.event)?;
    let spreads = spreads(model, request);
    let path = DamagePath::new(mechanism::COUNT, request.horizon_events, |events| {
        let then = model.after(&now, &event.total, events);
        damages(&model.spec, &then).to_vec()
    });
    let next = damages(&model.spec, &model.after(&now, &event.total, 1.0));
    let lives = path.draw(&spreads, &c::CORRELATIONS, request);
    let mechanisms = lives.into_iter().enumerate().map(|(index, lives_events)| {
        let (point_shares, shock_shares) = event.shares(model, &now, index);
        MechanismLife {
            lives_events,
            risk_next_event: spreads[index].passed(next[index]),
            point_shares,
            shock_shares,
        }
    });
    Ok(LifeForecast {
        mechanisms: mechanisms.collect(),
        readings: paths(model, &now, &event, &spreads, &request.ahead_events),
        notes: notes(model, &now, &event, &request.event),
    })
}

/// One event of the use to come.
struct Event {
    points: Vec<Added>,
    shocks: [Vec<Added>; 2],
    total: crate::law::Stretch,
    worst_knock: f64,
}

impl Event {
    fn new(model: &Model<'_>, event: &Duty) -> Result<Self, Vec<Finding>> {
        let blocks = duty::blocks(event)?;
        let added = |blocks: &Vec<ringland_engine::Block>| -> Vec<Added> {
            let one = |block| duty::added(&model.spec, &model.map, block);
            blocks.iter().map(one).collect()
        };
        let (points, shocks) = (added(&blocks.points), blocks.shocks.each_ref().map(added));
        let all = blocks.points.iter().chain(blocks.shocks.iter().flatten());
        Ok(Self {
            total: duty::total(points.iter().chain(shocks.iter().flatten())),
            points,
            shocks,
            worst_knock: all.map(|block| block.knock_level).fold(0.0, f64::max),
        })
    }

    fn all(&self) -> impl Iterator<Item = &Added> {
        self.points.iter().chain(self.shocks.iter().flatten())
    }

    /// Shares of a mechanism's next damage by operating point and kind of shock, at the rates of the moment.
    fn shares(&self, model: &Model<'_>, now: &Row, mechanism: usize) -> (Vec<f64>, Vec<f64>) {
        let amount = |added: &Added| amount(model, now, added, mechanism);
        let mut amounts: Vec<f64> = self.points.iter().map(amount).collect();
        amounts.extend(
            self.shocks
                .iter()
                .map(|kind| kind.iter().map(amount).sum::<f64>()),
        );
        let mut point_shares = shares(&amounts);
        let shock_shares = point_shares.split_off(self.points.len());
        (point_shares, shock_shares)
    }
}

fn amount(model: &Model<'_>, now: &Row, added: &Added, of: usize) -> f64 {
    let stretch = &added.stretch;
    match of {
        mechanism::GROOVE => {
            stretch.sliding[0] * clearance_m(&model.spec, now) + stretch.impact_m[0]
        }
        mechanism::WELDING => stretch.welding,
        mechanism::SKIRT => {
            let coat_m = model.spec.skirt_coat_thickness_m;
            let bare = |slot: usize| f64::from(u8::from(now[slot] >= coat_m));
            stretch.collapse_m
                + bare(slot::THRUST_SKIRT) * stretch.skirt_m[0][0]
                + bare(slot::ANTI_THRUST_SKIRT) * stretch.skirt_m[1][0]
        }
        mechanism::HARDNESS => stretch.softening,
        mechanism::PIN_BORE => stretch.pin_bore_m,
        _ => stretch.boss,
    }
}

/// The rates asked for, widened by what differs between cylinders, by what is not known of the surfaces, and by the scatter of strength.
fn spreads(model: &Model<'_>, request: &ForecastRequest) -> Vec<Spread> {
    let spec = &model.spec;
    let mut widening = [c::CYLINDER_LN_SD; mechanism::COUNT];
    widening[mechanism::GROOVE] = spec.top_groove.wear_ln_sd.hypot(c::CYLINDER_LN_SD);
    widening[mechanism::PIN_BORE] = spec.pin_bore_wear_ln_sd.hypot(c::CYLINDER_LN_SD);
    let scatter = spec.boss_slope * c::BOSS_SCATTER;
    widening[mechanism::BOSS] = scatter.hypot(c::CYLINDER_LN_SD);
    let rates = request.rates.iter().zip(widening);
    rates
        .map(|(rate, widening)| Spread::widened(rate, widening))
        .collect()
}

fn paths(
    model: &Model<'_>,
    now: &Row,
    event: &Event,
    spreads: &[Spread],
    ahead: &[f64],
) -> Vec<ReadingPath> {
    reading_paths(limits(&model.spec), ahead, |events| {
        let then = model.after(now, &event.total, events);
        QUANTILES.map(|z| readings(model, &then, &multipliers(spreads, z)))
    })
}

fn notes(model: &Model<'_>, now: &Row, event: &Event, duty: &Duty) -> Vec<Finding> {
    let mut notes = Vec::new();
    let off = event.all().filter(|added| added.extrapolated).count();
    if off > 0 {
        notes.push(warning(
            "event",
            off as f64,
            "operating points on the prepared map",
            "points beyond it are extrapolated in speed or load: treat their damage as a guess",
        ));
    }
    if event.worst_knock >= 1.0 {
        notes.push(warning(
            "event.knock_level",
            event.worst_knock,
            "below 1, the alarm",
            "stop and mend the cause; a piston that saw heavy knock is scrap whatever is computed (lands and crown are not modelled)",
        ));
    }
    let hottest_k = event.all().map(|added| added.groove_k).fold(0.0, f64::max);
    if hottest_k > c::HOT_GROOVE_K {
        notes.push(warning(
            "groove_temp_k",
            hottest_k,
            "at most 543 K (270 degC)",
            "check jets, mixture, ignition; rings weld to their grooves within half an hour there",
        ));
    }
    let index = now[slot::WELDING];
    if index >= c::WELDING_WARNING {
        notes.push(warning(
            "micro_welding_index",
            index,
            "below 0.5",
            "draw the piston and look at the flanks of the top groove for pick-up",
        ));
    }
    notes.extend(standing_in(&card::duty(), duty));
    notes.extend(past_limits(&card::mechanisms(), &damages(&model.spec, now)));
    notes
}
