//! Remaining life, readings and risk.

use ringland_mechanics::fatigue::defect::VICKERS_PA;
use ringland_mechanics::spring::MatchedSet;
use ringland_plugin::{
    DamagePath, Finding, ForecastRequest, LifeForecast, MechanismLife, Spread, check_request,
    check_row, normal_draws, past_limits, point_and_shock_shares, standing_in, warning,
};

use crate::card::{self, mechanism, slot};
use crate::condition::{Record, Springs, Stretch};
use crate::readings::{self, allowed_n, coil_gap_m};
use crate::speed_map::Looked;

/// Forecasts.
///
/// # Errors
/// Everything wrong with the request.
pub fn forecast(
    springs: &Springs<'_>,
    request: &ForecastRequest,
) -> Result<LifeForecast, Vec<Finding>> {
    check_request(mechanism::COUNT, request)?;
    check_row(&card::condition(), &request.condition)?;
    let need = card::duty();
    let record = springs.looked(&need, &request.event)?;
    let ahead = Ahead::new(springs, request, record.stretch());
    let [fatigue, loss] = ahead.lives(request);
    let next = springs.after(ahead.now, &ahead.event, 1.0);
    let [fatigue_next, loss_next] = ahead.damages(&next);
    let (loss_rate, set) = (ahead.loss, &ahead.set);
    let (fatigue_shares, loss_shares) = split(springs, &record, &ahead, &next);
    let life = |lives_events, risk_next_event, (point_shares, shock_shares)| MechanismLife {
        lives_events,
        risk_next_event,
        point_shares,
        shock_shares,
    };
    let mut notes = notes(springs, &record, &ahead, &next);
    notes.extend(standing_in(&need, &request.event));
    Ok(LifeForecast {
        mechanisms: vec![
            life(
                fatigue,
                set.over(ahead.fatigue_scale * fatigue_next),
                fatigue_shares,
            ),
            life(loss, loss_rate.passed(loss_next), loss_shares),
        ],
        readings: readings::paths(
            springs,
            &ahead.event,
            &loss_rate,
            &request.ahead_events,
            |events| ahead.row_after(events),
        ),
        notes,
    })
}

/// What lies ahead of a set of springs.
struct Ahead<'a> {
    springs: &'a Springs<'a>,
    now: &'a [f64],
    event: Stretch,
    allowed_n: f64,
    /// Spread of the springs' lives.
    set: MatchedSet,
    /// Multiplier of fatigue damage that inspections have taught.
    fatigue_scale: f64,
    loss: Spread,
}

impl<'a> Ahead<'a> {
    fn new(springs: &'a Springs<'a>, request: &'a ForecastRequest, event: Stretch) -> Self {
        let [fatigue, loss] = [mechanism::FATIGUE, mechanism::LOAD_LOSS]
            .map(|index| Spread::widened(&request.rates[index], 0.0));
        let spec = &springs.spec;
        Self {
            springs,
            now: &request.condition,
            allowed_n: allowed_n(springs, &event),
            event,
            set: MatchedSet {
                parts: spec.springs,
                own_ln_sd: spec.state.slope * spec.strength_scatter,
                common_ln_sd: fatigue
                    .ln_sd
                    .hypot(spec.state.slope * surface_ln_sd(springs)),
            },
            fatigue_scale: libm::exp(fatigue.ln_mean),
            loss,
        }
    }

    /// Damage by each mechanism at a condition: of a median spring, and of the seat load over what may be lost.
    fn damages(&self, row: &[f64]) -> [f64; mechanism::COUNT] {
        let lost_n = self.springs.lost_n(row, self.event.taller_m);
        let loss = if lost_n > 0.0 {
            lost_n / self.allowed_n
        } else {
            0.0
        };
        [row[slot::SURFACE_DAMAGE].max(row[slot::CORE_DAMAGE]), loss]
    }

    /// The condition so many events from now: event by event for the first ones, as records will come, then in longer strides.
    fn row_after(&self, events: f64) -> Vec<f64> {
        let (mut row, mut reached) = (self.now.to_vec(), 0.0);
        while reached < events {
            let stride = (0.05 * reached).max(1.0).min(events - reached);
            row = self.springs.after(&row, &self.event, stride);
            reached += stride;
        }
        row
    }

    /// Drawn lives by each mechanism: the same index is the same drawn set.
    fn lives(&self, request: &ForecastRequest) -> [Vec<f64>; mechanism::COUNT] {
        let (mut row, mut reached) = (self.now.to_vec(), 0.0);
        let path = DamagePath::new(mechanism::COUNT, request.horizon_events, |events| {
            row = self.springs.after(&row, &self.event, events - reached);
            reached = events;
            self.damages(&row).to_vec()
        });
        let draws = normal_draws(request.seed, 3, request.samples as usize);
        let [common, weakest, loss] = [&draws[0], &draws[1], &draws[2]];
        let set = &self.set;
        let fatigue = common.iter().zip(weakest).map(|(common, weakest)| {
            let strength = set.own_ln_sd * set.weakest_of_draw(*weakest);
            let endured = libm::exp(strength - set.common_ln_sd * common);
            path.events_to(mechanism::FATIGUE, endured / self.fatigue_scale)
        });
        let loss = loss
            .iter()
            .map(|z| path.events_to(mechanism::LOAD_LOSS, 1.0 / self.loss.at(*z)));
        [fatigue.collect(), loss.collect()]
    }
}

/// Spread of ln(strength) by what is not known of the surface; none where the core governs.
fn surface_ln_sd(springs: &Springs<'_>) -> f64 {
    let (spec, [ra_ln_sd, hardness_ln_sd]) = (&springs.spec, springs.spec.surface_ln_sd);
    let state = &spec.state;
    let rough = spec.wire.roughness_slope(state.ra_m, state.tensile_pa) * ra_ln_sd;
    let vickers = state.surface_hardness_pa / VICKERS_PA;
    rough.hypot(vickers / (vickers + 120.0) * hardness_ln_sd)
}

type Split = (Vec<f64>, Vec<f64>);

/// Shares of what the event adds to each mechanism.
fn split(
    springs: &Springs<'_>,
    record: &Record,
    ahead: &Ahead<'_>,
    next: &[f64],
) -> (Split, Split) {
    let zone = usize::from(next[slot::CORE_DAMAGE] > next[slot::SURFACE_DAMAGE]);
    let low = springs.low_share(ahead.now, record.taller_m);
    let by = |of: &dyn Fn(&Looked) -> [f64; 2]| {
        let amount = |block: &Option<Looked>| {
            block.as_ref().map_or(0.0, |block| {
                let [built, low_load] = of(block);
                built + (low_load - built) * low
            })
        };
        point_and_shock_shares(
            record.points.iter().map(amount),
            record.over_revs.iter().map(amount),
        )
    };
    (
        by(&|block| block.damage.map(|zones| zones[zone])),
        by(&|block| block.reduced_s),
    )
}

/// Share of sets that have broken beyond which a note says so.
const NOTED: f64 = 0.1;

fn notes(springs: &Springs<'_>, record: &Record, ahead: &Ahead<'_>, next: &[f64]) -> Vec<Finding> {
    let (spec, mut notes) = (&springs.spec, Vec::new());
    let off = record.blocks().filter(|block| block.extrapolated).count();
    if off > 0 {
        let remedy = "above it the motion of the fastest node stands in: treat these points as a guess on the low side";
        notes.push(warning(
            "event",
            off as f64,
            "speeds on the prepared map",
            remedy,
        ));
    }
    let floating = record.blocks().filter(|block| block.floats()).count();
    if floating > 0 {
        let remedy =
            "lower the limiter or fit stiffer springs; look at seats, keepers and lash after it";
        let expected = "operating points at which springs as built hold the valve on the cam";
        notes.push(warning("float_load_n", floating as f64, expected, remedy));
    }
    let gap_m = coil_gap_m(springs, next);
    if gap_m <= 0.0 {
        let remedy = "coils meet, which the model leaves out: they mark each other and break sooner; more clearance or damping, or another speed";
        notes.push(warning("least_coil_gap_m", gap_m, "more than 0 m", remedy));
    }
    let [fatigue, loss] = ahead.damages(ahead.now);
    let seat_n = spec.train.seat_load_n;
    let lost_n = springs.lost_n(next, ahead.event.taller_m) * ahead.loss.at(0.0);
    let alarm = spec.alarm_seat_load_loss_fraction;
    if lost_n > alarm * seat_n && loss < 1.0 {
        let expected = format!("at least {:.0} N after the event", (1.0 - alarm) * seat_n);
        let remedy = "measure the seat load of every spring; plan the change of the set";
        notes.push(warning(
            "seat_load_n",
            (seat_n - lost_n).round(),
            &expected,
            remedy,
        ));
    }
    let broken = ahead.set.over(ahead.fatigue_scale * fatigue);
    if broken >= NOTED {
        let expected = format!("a chance below {NOTED} that one of the set has broken");
        let remedy = "change the whole set; a broken spring drops its valve, and a clean look does not give life back";
        notes.push(warning("fatigue", broken, &expected, remedy));
    }
    notes.extend(past_limits(
        &card::mechanisms()[mechanism::LOAD_LOSS..],
        &[loss],
    ));
    notes
}
