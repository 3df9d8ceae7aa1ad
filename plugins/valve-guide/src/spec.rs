//! The specimen as named numbers, in the order of the card.

use ringland_engine::valvetrain::{self, ValveTrain};
use ringland_mechanics::guide::{BellMouth, GallingPair, Oil, PressedGuide};
use ringland_mechanics::oil::Vogel;
use ringland_plugin::{Finding, Specimen, Surface, error, properties, wrong_count};

use crate::card::option;
use crate::constants as c;
use crate::materials::{ALLOYS, Alloy, HEAD, STEMS};

/// Everything the model reads of a specimen.
#[derive(Debug, Clone, PartialEq)]
#[allow(missing_docs, reason = "named, with unit, range and note, on the card")]
pub struct Spec {
    pub train: ValveTrain,
    pub vogel: Vogel,
    pub own: Own,
    pub alloy: Alloy,
    /// Rank of the pair, 1 the best.
    pub pair_rank: f64,
    /// Oil that the seal leaves.
    pub oil: Oil,
    pub bore: Bore,
    pub stem_rq_m: f64,
    /// Spread of ln(composite roughness).
    pub roughness_ln_sd: f64,
}

/// Numbers of the guide and the stem in it.
#[derive(Debug, Clone, Copy, PartialEq)]
#[allow(missing_docs, reason = "named, with unit, range and note, on the card")]
pub struct Own {
    pub stem_diameter_m: f64,
    pub clearance_m: f64,
    pub guide_length_m: f64,
    pub guide_outer_m: f64,
    pub boss_outer_m: f64,
    pub interference_m: f64,
    pub tip_overhang_m: f64,
    pub port_length_m: f64,
    pub gauge_below_m: f64,
    pub neck_heat_share: f64,
    pub gas_heat_share: f64,
    pub gas_w_m2_k: f64,
    pub stem_w_m_k: f64,
    pub stem_expansion_per_k: f64,
    pub full_load_exhaust_temp_k: f64,
    pub limit_clearance_m: f64,
    pub limit_wobble_m: f64,
    pub limit_hot_clearance_m: f64,
}

/// Surface of the bore.
#[derive(Debug, Clone, Copy, PartialEq)]
#[allow(missing_docs, reason = "named, with unit, range and note, on the card")]
pub struct Bore {
    pub rq_m: f64,
    pub hardness_pa: f64,
    pub boundary_friction: f64,
    pub wear_coefficient_m2_n: f64,
    /// Spreads of ln(friction) and ln(wear coefficient).
    pub friction_ln_sd: f64,
    pub wear_ln_sd: f64,
}

/// How many numbers the card has.
pub const NUMBERS: usize = valvetrain::NUMBERS + ringland_engine::OIL_NUMBERS + OWN;
const OWN: usize = 18;

impl Spec {
    /// Reads a specimen; only the lengths of its lists, the lift curve and the choices are judged here.
    ///
    /// # Errors
    /// A list that does not have the card's length, an option that the card does not have, a lift table that is no lift curve.
    pub fn read(specimen: &Specimen) -> Result<Self, Vec<Finding>> {
        if specimen.numbers.len() != NUMBERS {
            return Err(wrong_count("numbers", specimen.numbers.len(), NUMBERS));
        }
        let train = ValveTrain::read(specimen)?;
        let rest = &specimen.numbers[valvetrain::NUMBERS..];
        let (Some(vogel), Some(own)) = (rest.first_chunk(), rest.last_chunk::<OWN>()) else {
            return Err(wrong_count("numbers", specimen.numbers.len(), NUMBERS));
        };
        let [bore, stem] = specimen.surfaces.as_slice() else {
            return Err(wrong_count("surfaces", specimen.surfaces.len(), 2));
        };
        let (alloy, rank, lip_pa_m) = choices(specimen)?;
        let (bore, bore_rq_sd) = read_bore(bore)?;
        let ([stem_rq_m], [stem_rq_sd]) = properties("stem", stem)?;
        let sigma_m = bore.rq_m.hypot(stem_rq_m);
        let oil = Oil::new(lip_pa_m, sigma_m, c::OIL_LOSS_K);
        let oil = oil.map_err(|found| {
            let remedy = "check the roughness of bore and stem";
            vec![error("bore.rq_m", found.value, found.expected, remedy)]
        })?;
        let share = (bore.rq_m / sigma_m).powi(2);
        Ok(Self {
            train,
            vogel: ringland_engine::oil(*vogel),
            own: read_own(own),
            alloy,
            pair_rank: rank,
            oil,
            bore,
            stem_rq_m,
            roughness_ln_sd: (share * bore_rq_sd).hypot((1.0 - share) * stem_rq_sd),
        })
    }

    /// Geometry of the worn ends, for a stem that has lost so much of its diameter \[m\], 0 or more.
    pub fn bell_mouth(&self, stem_loss_m: f64) -> BellMouth {
        BellMouth {
            stem_diameter_m: self.own.stem_diameter_m,
            clearance_m: self.own.clearance_m + stem_loss_m,
            length_m: self.own.guide_length_m,
        }
    }

    /// The guide in its boss.
    pub fn pressed(&self) -> PressedGuide {
        PressedGuide {
            bore_m: self.bore_diameter_m(),
            outer_m: self.own.guide_outer_m,
            boss_m: self.own.boss_outer_m,
            interference_m: self.own.interference_m,
            guide: self.alloy.solid,
            head: HEAD,
        }
    }

    /// Bore of the guide, cold \[m\].
    pub fn bore_diameter_m(&self) -> f64 {
        self.own.stem_diameter_m + self.own.clearance_m
    }

    /// What the pair bears.
    pub fn pair(&self) -> GallingPair {
        GallingPair {
            limit_w_m2: self.pair_rank * c::PAIR_LIMIT_W_M2,
            reference_k: c::PAIR_REFERENCE_K,
            critical_k: c::PAIR_CRITICAL_K,
        }
    }

    /// Area that bears at one end once bedded in \[m²\].
    pub fn bearing_area_m2(&self) -> f64 {
        c::BEDDED_SHARE * self.own.guide_length_m * self.own.stem_diameter_m
    }
}

type Chosen = (Alloy, f64, Option<f64>);

fn choices(specimen: &Specimen) -> Result<Chosen, Vec<Finding>> {
    let of = |index: usize| specimen.choices.get(index).map_or(0, |o| *o as usize);
    if specimen.choices.len() != option::COUNT {
        return Err(wrong_count(
            "choices",
            specimen.choices.len(),
            option::COUNT,
        ));
    }
    let alloy = ALLOYS.get(of(option::ALLOY));
    let rank = alloy.and_then(|alloy| alloy.ranks.get(of(option::STEM)));
    let lips = [Some(c::METERING_LIP_PA_M), Some(c::RICH_LIP_PA_M), None];
    match (alloy, rank, lips.get(of(option::SEAL))) {
        (Some(alloy), Some(rank), Some(lip)) => Ok((*alloy, *rank, *lip)),
        (None, ..) => Err(unknown("guide_alloy", of(option::ALLOY), ALLOYS.len())),
        (_, None, _) => Err(unknown("stem_surface", of(option::STEM), STEMS.len())),
        _ => Err(unknown("oil_supply", of(option::SEAL), lips.len())),
    }
}

fn unknown(field: &str, option: usize, count: usize) -> Vec<Finding> {
    let expected = format!("an option from 0 to {}", count - 1);
    let remedy = "choose an option of the card";
    vec![error(field, option as f64, &expected, remedy)]
}

fn read_own(own: &[f64; OWN]) -> Own {
    let [
        stem_diameter_m,
        clearance_m,
        guide_length_m,
        guide_outer_m,
        boss_outer_m,
        interference_m,
        tip_overhang_m,
        port_length_m,
        gauge_below_m,
        neck_heat_share,
        gas_heat_share,
        gas_w_m2_k,
        stem_w_m_k,
        stem_expansion_per_k,
        full_load_exhaust_temp_k,
        limit_clearance_m,
        limit_wobble_m,
        limit_hot_clearance_m,
    ] = *own;
    Own {
        stem_diameter_m,
        clearance_m,
        guide_length_m,
        guide_outer_m,
        boss_outer_m,
        interference_m,
        tip_overhang_m,
        port_length_m,
        gauge_below_m,
        neck_heat_share,
        gas_heat_share,
        gas_w_m2_k,
        stem_w_m_k,
        stem_expansion_per_k,
        full_load_exhaust_temp_k,
        limit_clearance_m,
        limit_wobble_m,
        limit_hot_clearance_m,
    }
}

fn read_bore(surface: &Surface) -> Result<(Bore, f64), Vec<Finding>> {
    let (values, ln_sd) = properties("bore", surface)?;
    let [rq_m, hardness_pa, boundary_friction, wear_coefficient_m2_n] = values;
    let [rq_ln_sd, _, friction_ln_sd, wear_ln_sd] = ln_sd;
    let bore = Bore {
        rq_m,
        hardness_pa,
        boundary_friction,
        wear_coefficient_m2_n,
        friction_ln_sd,
        wear_ln_sd,
    };
    Ok((bore, rq_ln_sd))
}
