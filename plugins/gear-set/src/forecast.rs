//! Forecasts: the law of the condition ahead, lives drawn from it.

use ringland_plugin::{
    DamagePath, Finding, ForecastRequest, LifeForecast, MechanismLife, QUANTILES, Spread,
    check_request, multipliers, past_limits, reading_paths, shares, standing_in, warning,
};

use crate::card::{self, mechanism};
use crate::condition::{Condition, Model, slot};
use crate::constants::{
    BOX_LN_SD, CORRELATION, MICROPITTING_FILM, PITTING_EXPONENT, PITTING_SHAPE, ROOT_EXPONENT,
    ROOT_SHAPE,
};
use crate::duty::{self, Added, Record};
use crate::readings::{self, damage};
use crate::spec::Spec;

/// Answers a request.
///
/// # Errors
/// What is wrong with it.
pub fn forecast(
    model: &Model<'_>,
    request: &ForecastRequest,
) -> Result<LifeForecast, Vec<Finding>> {
    check_request(mechanism::COUNT, request)?;
    let now = Condition::read(&request.condition)?;
    let spec = &model.spec;
    let record = duty::record(spec, &model.asperities, &request.event)?;
    let event = record.total();
    let spreads = spreads(spec, request);
    let path = DamagePath::new(mechanism::COUNT, request.horizon_events, |events| {
        damage(spec, &now.after(&event, events)).to_vec()
    });
    let lives = path.draw(&spreads, &[CORRELATION; mechanism::COUNT], request);
    let next = now.after(&event, 1.0);
    let after = damage(spec, &next);
    let mechanisms = lives.into_iter().enumerate().map(|(index, lives_events)| {
        let (point_shares, shock_shares) = split(&record, index, &next);
        MechanismLife {
            lives_events,
            risk_next_event: spreads[index].passed(after[index]),
            point_shares,
            shock_shares,
        }
    });
    Ok(LifeForecast {
        mechanisms: mechanisms.collect(),
        readings: reading_paths(readings::limits(spec), &request.ahead_events, |events| {
            let then = now.after(&event, events);
            QUANTILES.map(|z| readings::readings(spec, &then, &multipliers(&spreads, z), &event))
        }),
        notes: notes(spec, &now, request, &event),
    })
}

/// The rates asked for, widened by the scatter of strength and by what is not known of the flanks.
fn spreads(spec: &Spec, request: &ForecastRequest) -> Vec<Spread> {
    let [roughness_sd, wear_sd] = spec.flank.ln_sd;
    // Z_R goes with Ra to the power -0.08 at this strength, friction with 0.25.
    let flank = spec.contact_strength_scatter.hypot(0.08 * roughness_sd);
    let widening = [
        PITTING_EXPONENT * flank,
        ROOT_EXPONENT * spec.root_strength_scatter,
        BOX_LN_SD.hypot(0.25 * roughness_sd),
        BOX_LN_SD,
        BOX_LN_SD.hypot(wear_sd).hypot(roughness_sd),
    ];
    let widened = request.rates.iter().zip(widening);
    widened
        .map(|(rate, ln_sd)| Spread::widened(rate, ln_sd))
        .collect()
}

/// Shares of operating points and of shocks in what the next event adds to a mechanism's damage.
fn split(record: &Record, mechanism: usize, next: &Condition) -> (Vec<f64>, Vec<f64>) {
    let peak = record.total().scuff_severity;
    let joined = |added: &Added, from: usize, shape: f64| {
        let next = next
            .gears
            .iter()
            .flat_map(|gear| [gear[from], gear[from + 1]]);
        let added = added
            .gears
            .iter()
            .flat_map(|gear| [gear[from], gear[from + 1]]);
        let weighted = next.zip(added);
        weighted
            .map(|(next, added)| libm::pow(next, shape - 1.0) * added)
            .sum::<f64>()
    };
    let worst = |at: usize| {
        let gears = next.gears.iter().enumerate();
        gears.fold(0, |worst, (index, gear)| {
            if gear[at] > next.gears[worst][at] {
                index
            } else {
                worst
            }
        })
    };
    let (dog, backlash) = (worst(slot::DOG), worst(slot::BACKLASH));
    let amount = |added: &Added| match mechanism {
        mechanism::PITTING => joined(added, slot::PITTING, PITTING_SHAPE),
        mechanism::ROOT => joined(added, slot::ROOT, ROOT_SHAPE),
        mechanism::DOG => added.gears[dog][slot::DOG],
        mechanism::BACKLASH => added.gears[backlash][slot::BACKLASH],
        // What makes the peak has it all.
        _ => f64::from(u8::from(peak > 0.0 && added.scuff_severity >= peak)),
    };
    let all = record.points.iter().chain(&record.shocks);
    let mut point_shares = shares(&all.map(amount).collect::<Vec<f64>>());
    let shock_shares = point_shares.split_off(record.points.len());
    (point_shares, shock_shares)
}

fn notes(spec: &Spec, now: &Condition, request: &ForecastRequest, event: &Added) -> Vec<Finding> {
    let mut notes = Vec::new();
    if event.film_ratio < MICROPITTING_FILM {
        notes.push(warning(
            "film_ratio",
            event.film_ratio,
            &format!("a film of at least {MICROPITTING_FILM} of the mean roughness"),
            "grey flanks (micropitting) are likely: finer flanks, thicker or cooler oil",
        ));
    }
    if event.static_share > 1.0 {
        notes.push(warning(
            "event.engine_torque_n_m",
            event.static_share,
            "stresses of at most the static strength of flank and root",
            "the life curves are carried on beyond what they hold good for: take these gears for overloaded",
        ));
    }
    notes.extend(standing_in(&card::duty(), &request.event));
    notes.extend(past_limits(&card::mechanisms(), &damage(spec, now)));
    notes
}
