//! Duty: what each operating point and over-rev adds.

use ringland_engine::{Block, bounds, points_and_over_revs};
use ringland_mechanics::guide::{Oil, stem_loss_m, worn_m3};
use ringland_mechanics::oil::dilution_factor;
use ringland_mechanics::valve::{axial_recession_m, impact_volume_m3, sliding_volume_m3};
use ringland_plugin::{Duty, Finding, check_duty, error, time_mean};

use crate::card::{self, mate, slot};
use crate::constants::{IMPACT_SHARE, KNOCK_MOST, KNOCK_RISE, OIL_LOSS_K};
use crate::gas::AMBIENT_PA;
use crate::head::{
    Surroundings, creep_fraction, flow, load_slip_n_m, stem_k, temperature, utilisation,
};
use crate::maps::Maps;
use crate::spec::Spec;

/// What a block adds to the slots, and what it was like.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Added {
    /// Added to each slot.
    pub slots: [f64; slot::COUNT],
    /// Temperature of the head's centre \[K\].
    pub centre_k: f64,
    /// Speed of the first landing \[m/s\].
    pub seating_m_s: f64,
    /// Largest gap between valve and cam \[m\].
    pub loft_m: f64,
    /// Whether it lies off a map.
    pub extrapolated: bool,
}

/// A record, block by block.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Record {
    /// Operating points.
    pub points: Vec<Added>,
    /// Over-revs.
    pub over_revs: Vec<Added>,
}

impl Record {
    /// All blocks.
    pub fn all(&self) -> impl Iterator<Item = &Added> {
        self.points.iter().chain(&self.over_revs)
    }

    /// What all of it adds to the slots.
    pub fn total(&self) -> [f64; slot::COUNT] {
        let mut total = [0.0; slot::COUNT];
        for added in self.all() {
            for (sum, value) in total.iter_mut().zip(added.slots) {
                *sum += value;
            }
        }
        total
    }
}

/// Least and most exhaust temperature \[K\].
const EXHAUST_K: (f64, f64) = (230.0, 1600.0);

/// Reads a record.
///
/// # Errors
/// Every entry out of bounds.
pub fn record(spec: &Spec, maps: &Maps<'_>, duty: &Duty) -> Result<Record, Vec<Finding>> {
    let need = card::duty();
    check_duty(&need, duty, |name| match name {
        "exhaust_temp_k" => Some(EXHAUST_K),
        _ => bounds(name),
    })?;
    let (points, over_revs) = points_and_over_revs(&need, duty)?;
    let channel = need
        .channels
        .iter()
        .position(|c| c.name == "exhaust_temp_k");
    let column = channel.map_or(&[][..], |index| duty.channel(index));
    let mean_k = time_mean(duty, column, card::EXHAUST_K);
    let sink_m = duty.mates.get(mate::SINK).copied().unwrap_or(0.0).max(0.0);
    let seat_load_n = spec.train.seat_load_n - spec.train.spring.rate_n_m() * sink_m;
    let look = Look::new(spec, maps, seat_load_n)?;
    let pairs = points.iter().zip(column);
    Ok(Record {
        points: pairs.map(|(block, k)| look.block(block, *k)).collect(),
        over_revs: over_revs
            .iter()
            .map(|block| look.block(block, mean_k))
            .collect(),
    })
}

/// A valve with its maps and its oil.
pub struct Look<'a> {
    spec: &'a Spec,
    maps: &'a Maps<'a>,
    seat_load_n: f64,
    oil: Oil,
    line: ringland_mechanics::fatigue::SnLine,
}

impl<'a> Look<'a> {
    /// At a spring force on the closed valve \[N\].
    ///
    /// # Errors
    /// Numbers that oil or S-N line are not defined for.
    pub fn new(spec: &'a Spec, maps: &'a Maps<'a>, seat_load_n: f64) -> Result<Self, Vec<Finding>> {
        let refused = |wrong: ringland_mechanics::range::OutOfRange| {
            let remedy = "correct the spec";
            vec![error(wrong.field, wrong.value, wrong.expected, remedy)]
        };
        let sigma_m = spec.stem_rq_m.hypot(spec.guide_rq_m);
        let lip = Some(spec.seal_lip_gradient_pa_m);
        Ok(Self {
            spec,
            maps,
            seat_load_n,
            oil: Oil::new(lip, sigma_m, OIL_LOSS_K).map_err(refused)?,
            line: spec.line().map_err(refused)?,
        })
    }

    /// What a block adds.
    pub fn block(&self, block: &Block, exhaust_k: f64) -> Added {
        let (spec, maps) = (self.spec, self.maps);
        let cycles = block.cycles();
        let imep_pa = maps.gas.imep_pa(block);
        let (gas, off_gas) = maps.gas_at(block.speed_rad_s, imep_pa);
        let (turn, off_motion) = maps.turn_at(block.speed_rad_s, self.seat_load_n);
        let around = Surroundings {
            gas,
            exhaust_k,
            coolant_k: block.coolant_k,
            flow: flow(spec, block.speed_rad_s, imep_pa),
            closed_share: turn.closed_share,
        };
        let head_k = temperature(spec, &around);
        let knock = (1.0 + KNOCK_RISE * block.knock_level).min(KNOCK_MOST);
        let clean_pa = maps.gas.peak_pressure_pa(block.speed_rad_s, imep_pa);
        let peak_pa = (knock * clean_pa - AMBIENT_PA).max(0.0);

        let sliding_m3 = block.contamination
            * sliding_volume_m3(
                spec.seat_wear_m2_n,
                load_slip_n_m(spec, peak_pa, head_k.rim_k),
                1.0,
                cycles,
            );
        let energy_j = 0.5 * (spec.valve_mass_kg + spec.retained_mass_kg) * turn.impacts_m2_s2;
        let impact_m3 = impact_volume_m3(IMPACT_SHARE / spec.seat_hardness_pa, energy_j, cycles);
        let sink_m = axial_recession_m(
            sliding_m3 + impact_m3,
            spec.seat_radius_m,
            spec.seat_width_m,
            spec.seat_angle_rad,
        );
        let lost_m = self.stem_loss(block, turn.sliding_m_s, turn.dose_n_m, head_k.centre_k);
        let mut slots = [0.0; slot::COUNT];
        slots[slot::RECESSION] = sink_m;
        slots[slot::LASH_TAKEN] = sink_m;
        // Half of the sink is taken off the valve, half off the seat.
        slots[slot::MARGIN_LOST] = 0.5 * sink_m;
        slots[slot::STEM_TOP] = cycles * lost_m[0];
        slots[slot::STEM_BOTTOM] = cycles * lost_m[1];
        slots[slot::GROOVE] = self.line.damage(turn.groove, cycles);
        slots[slot::HEAD_FATIGUE] = self
            .line
            .damage(utilisation(spec, peak_pa, &head_k), cycles);
        slots[slot::HEAD_CREEP] = creep_fraction(spec, &gas, head_k.centre_k, block.time_s);
        slots[slot::RUN] = if cycles > 0.0 { block.time_s } else { 0.0 };
        if cycles <= 0.0 {
            slots = [0.0; slot::COUNT];
        }
        Added {
            slots,
            centre_k: head_k.centre_k,
            seating_m_s: turn.seating_m_s,
            loft_m: turn.loft_m,
            extrapolated: (off_gas || off_motion) && cycles > 0.0,
        }
    }

    /// Loss of the stem's diameter by one turn at the guide's top and bottom \[m\].
    fn stem_loss(
        &self,
        block: &Block,
        sliding_m_s: f64,
        dose_n_m: [f64; 2],
        centre_k: f64,
    ) -> [f64; 2] {
        let spec = self.spec;
        let viscosity_pa_s =
            spec.oil.viscosity_pa_s(block.oil_k) * dilution_factor(block.fuel_fraction);
        let layer_m = self.oil.layer_m(viscosity_pa_s, sliding_m_s.max(0.0));
        let ends_k = stem_k(spec, centre_k, block.coolant_k);
        let stroke_m = spec.train.lift.largest_m();
        let end = |index: usize| {
            let share = self.oil.asperity_share(layer_m, ends_k[index]);
            let worn = worn_m3(spec.stem_wear_m2_n, share, dose_n_m[index].max(0.0));
            let length_m = spec.bearing_length_m;
            block.contamination * stem_loss_m(worn, spec.stem_diameter_m, stroke_m, length_m)
        };
        [end(0), end(1)]
    }
}
