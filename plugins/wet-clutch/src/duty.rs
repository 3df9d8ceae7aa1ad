//! A duty record as what it adds: every engagement and shift heats the pack, every operating point ages lining and oil at the oil's temperature.

use std::collections::BTreeMap;

use ringland_driveline::{Block, Engagement, Shift, Use};
use ringland_mechanics::clutch::wet::{Arrhenius, HotSpots, Plate};

use crate::constants as c;
use crate::heat_map::{Answer, HeatMap};
use crate::pack::OXIDATION;
use crate::spec::Spec;

/// What a stretch of duty adds.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Added {
    /// Dose of glaze of the lining.
    pub glaze: f64,
    /// Damage of the lining by energy, at the median.
    pub lining: f64,
    /// Depth worn off each lining \[m\].
    pub wear_m: f64,
    /// Permanent unevenness of the separators \[m\].
    pub flatness_m: f64,
    /// Exponent by which the oil's friction modifier falls.
    pub oil_age: f64,
    /// Dose of oxidation of the oil.
    pub oxidation: f64,
    /// Hottest interface \[K\].
    pub hottest_k: f64,
    /// Highest sliding speed over that at which hot spots start.
    pub hot_spots: f64,
    /// Whether an engagement was longer, or its power more peaked, than the map.
    pub off_the_map: bool,
}

impl Added {
    /// Both, one after the other; the worse of what is not summed.
    #[must_use]
    pub fn and(&self, other: &Self) -> Self {
        Self {
            glaze: self.glaze + other.glaze,
            lining: self.lining + other.lining,
            wear_m: self.wear_m + other.wear_m,
            flatness_m: self.flatness_m + other.flatness_m,
            oil_age: self.oil_age + other.oil_age,
            oxidation: self.oxidation + other.oxidation,
            hottest_k: self.hottest_k.max(other.hottest_k),
            hot_spots: self.hot_spots.max(other.hot_spots),
            off_the_map: self.off_the_map || other.off_the_map,
        }
    }

    /// What a pack gets that takes only a share of such engagements; the oil gets the heat of both packs.
    fn shared(&self, share: f64) -> Self {
        let taken = f64::from(u8::from(share > 0.0));
        Self {
            glaze: self.glaze * share,
            lining: self.lining * share,
            wear_m: self.wear_m * share,
            flatness_m: self.flatness_m * share,
            hottest_k: self.hottest_k * taken,
            hot_spots: self.hot_spots * taken,
            off_the_map: self.off_the_map && share > 0.0,
            ..*self
        }
    }
}

/// What a record adds, by where it comes from.
#[derive(Debug, Clone, PartialEq)]
pub struct Parts {
    /// By operating point.
    pub points: Vec<Added>,
    /// By kind of shock, in the card's order: launches, other engagements, shifts.
    pub shocks: [Added; 3],
    /// Highest engine torque \[N·m\].
    pub torque_n_m: f64,
}

impl Parts {
    /// All of it.
    pub fn total(&self) -> Added {
        let all = self.points.iter().chain(&self.shocks);
        all.fold(Added::default(), |sum, part| sum.and(part))
    }
}

/// Rise of the interface up to which its moments give the glaze \[K\].
pub const SMALL_K: f64 = 8.0;

/// Slip under torque: what the wall feels.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Slip {
    energy_j: f64,
    duration_s: f64,
    /// Peak over mean power.
    peak: f64,
    /// Slip at the start \[rad/s\].
    start_rad_s: f64,
    /// What earlier engagements have left of their heat at its start \[K\].
    warm_k: f64,
}

impl Slip {
    fn of(engagement: &Engagement, warm_k: f64) -> Self {
        let Engagement {
            energy_j,
            duration_s,
            peak_power_w,
            peak_torque_n_m,
            ..
        } = *engagement;
        let even = energy_j <= 0.0;
        Self {
            energy_j,
            duration_s,
            peak: if even {
                1.0
            } else {
                peak_power_w * duration_s / energy_j
            },
            start_rad_s: if peak_torque_n_m > 0.0 {
                peak_power_w / peak_torque_n_m
            } else {
                0.0
            },
            warm_k,
        }
    }

    /// A shift of a dual clutch or automatic: the pack pulls the engine through the step of speed, slip falling evenly.
    fn of_shift(shift: &Shift) -> Self {
        let start_rad_s = shift.engine_speed_step_rad_s.abs();
        Self {
            energy_j: 0.5 * shift.mean_engine_torque_n_m.abs() * start_rad_s * shift.duration_s,
            duration_s: shift.duration_s,
            peak: 2.0,
            start_rad_s,
            warm_k: 0.0,
        }
    }
}

/// A pack that slips in oil of one temperature.
pub struct Slipping<'a> {
    spec: &'a Spec,
    map: &'a HeatMap<'a>,
    glazing: Arrhenius,
    plate: Plate,
    area_m2: f64,
    radius_m: f64,
    /// Energy life as a median of packs.
    energy_life: f64,
    oil_k: f64,
    contamination: f64,
}

impl<'a> Slipping<'a> {
    /// In a record whose mean is given.
    pub fn new(spec: &'a Spec, map: &'a HeatMap<'a>, mean: &Block) -> Self {
        Self {
            spec,
            map,
            glazing: spec.glazing(),
            plate: spec.plate(),
            area_m2: spec.area_m2(),
            radius_m: spec.radius_m(),
            energy_life: median_energy_life(spec.energy_life),
            oil_k: mean.gearbox_oil_k,
            contamination: mean.contamination,
        }
    }

    /// What slip adds to a pack that takes all of it, and what of its heat is left in the slowest part of the cooling \[K\].
    fn slip(&self, slip: &Slip) -> (Added, f64) {
        self.answered(slip, &self.map.answer(slip.duration_s, slip.peak))
    }

    /// [`Self::slip`] with the wall's answer to it, and whether that was off the map.
    fn answered(&self, slip: &Slip, (answer, off_the_map): &(Answer, bool)) -> (Added, f64) {
        let heat_j_m2 = slip.energy_j / self.area_m2;
        let peak_k = self.oil_k + slip.warm_k + heat_j_m2 * answer.peak_rise;
        let rubbing_k = self.oil_k + slip.warm_k + heat_j_m2 * answer.mean_rise;
        let energy = heat_j_m2 / c::ENERGY_REFERENCE_J_M2;
        let start_m_s = slip.start_rad_s * self.radius_m;
        let added = Added {
            glaze: self.glaze(answer, heat_j_m2, slip.warm_k),
            lining: libm::pow(energy, self.spec.energy_exponent) / self.energy_life,
            wear_m: self.wear_m(heat_j_m2, rubbing_k),
            flatness_m: self.flatness_m(answer, heat_j_m2, peak_k, start_m_s),
            oil_age: slip.energy_j / (self.spec.oil_volume_m3 * c::MODIFIER_ENERGY_J_M3),
            oxidation: 0.0,
            hottest_k: peak_k,
            hot_spots: start_m_s / self.map.critical_m_s,
            off_the_map: *off_the_map,
        };
        (added, heat_j_m2 * answer.left_over())
    }

    /// Glaze beyond that of a pack that only cools on from before.
    fn glaze(&self, answer: &Answer, heat_j_m2: f64, warm_k: f64) -> f64 {
        if warm_k <= 0.0 {
            if heat_j_m2 * answer.peak_rise < SMALL_K {
                let [first, second, third] = answer.moments;
                let (one, two) = (heat_j_m2, heat_j_m2 * heat_j_m2);
                let moments = [first * one, second * two, third * two * one];
                return self.glazing.small_rise(self.oil_k, moments);
            }
            let hot = answer
                .history()
                .map(|(at_s, rise)| (at_s, self.oil_k + heat_j_m2 * rise));
            let anyway = self.glazing.rate_per_s(self.oil_k) * answer.followed_s();
            return (self.glazing.dose(hot) - anyway).max(0.0);
        }
        let cooling = answer.history().map(|(at_s, rise)| {
            let before_k = self.oil_k + warm_k * libm::exp(-at_s / self.map.slowest_s);
            (at_s, before_k, before_k + heat_j_m2 * rise)
        });
        let cooling: Vec<(f64, f64, f64)> = cooling.collect();
        let hot = cooling.iter().map(|(at_s, _, hot_k)| (*at_s, *hot_k));
        let anyway = cooling.iter().map(|(at_s, before_k, _)| (*at_s, *before_k));
        (self.glazing.dose(hot) - self.glazing.dose(anyway)).max(0.0)
    }

    /// J. F. Archard's law: energy over friction is load times sliding. A rougher separator cuts with steeper asperities, a hotter
    /// lining is softer.
    fn wear_m(&self, heat_j_m2: f64, rubbing_k: f64) -> f64 {
        let rough = self.spec.ra_m / c::REFERENCE_RA_M;
        let softer = Arrhenius {
            activation_j_mol: c::WEAR_ACTIVATION_J_MOL,
            reference_k: c::WEAR_REFERENCE_K,
            reference_s: 1.0,
        };
        self.spec.wear_m2_n / self.spec.friction
            * heat_j_m2
            * rough
            * softer.rate_per_s(rubbing_k)
            * self.contamination
    }

    /// What the separators yield where they are hottest, bent to the wave of the hot spots: `2 ε/(a m²)` from top to bottom.
    fn flatness_m(&self, answer: &Answer, heat_j_m2: f64, peak_k: f64, start_m_s: f64) -> f64 {
        let plate = &self.plate;
        let spots = HotSpots {
            critical_m_s: self.map.critical_m_s,
            wave_number_per_m: self.map.wave_number_per_m,
        };
        let growth = plate.growth(spots.critical_m_s, start_m_s, answer.duration_s());
        // At 1 the spots carry everything.
        let uneven = (c::UNEVENNESS * libm::exp(growth.min(50.0))).min(1.0);
        let flux_w_m2 = heat_j_m2 * answer.peak_power_per_s();
        let across_k = uneven * flux_w_m2 * plate.half_m / plate.conductivity_w_m_k;
        let held_k = across_k + heat_j_m2 * answer.skin();
        let strain = plate.expansion_per_k * held_k;
        let bears = yield_pa(peak_k) * (1.0 - plate.poisson) / plate.modulus_pa;
        let yielded = (strain - bears).max(0.0);
        let bend_m = plate.half_m * spots.wave_number_per_m * spots.wave_number_per_m;
        2.0 * yielded / bend_m
    }
}

/// Yield strength of a separator \[Pa\] at a temperature, straight through half of it at [`c::HALF_YIELD_K`].
pub fn yield_pa(temp_k: f64) -> f64 {
    let share = 1.0 - 0.5 * (temp_k - c::ROOM_K) / (c::HALF_YIELD_K - c::ROOM_K);
    c::YIELD_PA * share.clamp(c::LEAST_YIELD, 1.0)
}

/// Energy life at which half of the packs have failed, from that at which [`c::ENERGY_LIFE_AT`] have: lognormal.
pub fn median_energy_life(stated: f64) -> f64 {
    let z = ringland_plugin::normal_quantile(c::ENERGY_LIFE_AT);
    stated * libm::exp(-z * c::ENERGY_LIFE_LN_SD)
}

/// What a record adds.
pub fn parts(spec: &Spec, map: &HeatMap<'_>, record: &Use) -> Parts {
    let slipping = Slipping::new(spec, map, &record.mean);
    let mut shocks = [Added::default(); 3];
    let (mut warm_k, mut since_s) = (0.0, 0.0_f64);
    for engagement in &record.engagements {
        let idle_s = (engagement.start_s - since_s).max(0.0);
        warm_k *= libm::exp(-idle_s / map.slowest_s);
        let (added, left_k) = slipping.slip(&Slip::of(engagement, warm_k));
        let kind = usize::from(!engagement.launch);
        shocks[kind] = shocks[kind].and(&added.shared(spec.launch_share));
        // To the end of this engagement, where its own heat joins in.
        warm_k = warm_k * libm::exp(-engagement.duration_s / map.slowest_s) + left_k;
        since_s = since_s.max(engagement.start_s + engagement.duration_s);
    }
    // Logged durations are whole steps of a clock: few differ.
    let mut answers = BTreeMap::new();
    for shift in &record.shifts {
        let slip = Slip::of_shift(shift);
        let answer = answers
            .entry(slip.duration_s.to_bits())
            .or_insert_with(|| map.answer(slip.duration_s, slip.peak));
        let (added, _) = slipping.answered(&slip, answer);
        shocks[2] = shocks[2].and(&added.shared(spec.shift_share));
    }
    let torques = record.points.iter().map(|block| block.engine_torque_n_m);
    Parts {
        points: record
            .points
            .iter()
            .map(|block| idle(spec, block))
            .collect(),
        shocks,
        torque_n_m: torques.fold(0.0, f64::max),
    }
}

/// Time in warm oil.
fn idle(spec: &Spec, block: &Block) -> Added {
    let oxidation = OXIDATION.rate_per_s(block.gearbox_oil_k) * block.time_s;
    Added {
        glaze: spec.glazing().rate_per_s(block.gearbox_oil_k) * block.time_s,
        oil_age: oxidation,
        oxidation,
        ..Added::default()
    }
}
