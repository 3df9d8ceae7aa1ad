//! A duty record as what it adds: each operating point and over-rev looked up.

use ringland_engine::Block;
use ringland_engine::valvetrain::SpeedMap;
use ringland_mechanics::guide::{HeatPath, SlideDose, worn_m3};
use ringland_mechanics::oil::dilution_factor;

use crate::heat::{Heat, heat, hot_clearance_m};
use crate::solve::look_up;
use crate::spec::Spec;

/// What blocks add.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Added {
    /// Worn off each mouth on each side, in the order of the slots \[m³\].
    pub worn_m3: [f64; 4],
    /// Highest galling index \[1\].
    pub galling: f64,
    /// Least clearance at the hot end, as built \[m\]; as built cold when nothing ran.
    pub hot_clearance_m: f64,
    /// Whether the map had to be extrapolated.
    pub extrapolated: bool,
}

/// What a block is looked up in.
#[derive(Debug, Clone, Copy)]
pub struct Tables<'a> {
    /// The spec.
    pub spec: &'a Spec,
    /// The map.
    pub map: &'a SpeedMap<'a>,
    /// Heat path from stem to boss.
    pub path: &'a HeatPath,
}

impl Added {
    /// Nothing.
    pub fn nothing(spec: &Spec) -> Self {
        Self {
            worn_m3: [0.0; 4],
            galling: 0.0,
            hot_clearance_m: spec.own.clearance_m,
            extrapolated: false,
        }
    }

    /// Both together: wear adds up, worst cases hold.
    #[must_use]
    pub fn and(mut self, more: &Self) -> Self {
        for (sum, worn) in self.worn_m3.iter_mut().zip(more.worn_m3) {
            *sum += worn;
        }
        self.galling = self.galling.max(more.galling);
        self.hot_clearance_m = self.hot_clearance_m.min(more.hot_clearance_m);
        self.extrapolated |= more.extrapolated;
        self
    }
}

/// What a block adds, with exhaust gas of so many \[K\].
pub fn added(tables: &Tables<'_>, block: &Block, exhaust_k: f64) -> Added {
    let spec = tables.spec;
    if block.speed_rad_s <= 0.0 || block.time_s <= 0.0 {
        return Added::nothing(spec);
    }
    let (cycle, extrapolated) = look_up(tables.map, spec, block.speed_rad_s);
    let heat = heat(
        spec,
        tables.path,
        block.speed_rad_s,
        exhaust_k,
        block.coolant_k,
    );
    let [top, bottom] = asperity_shares(spec, block, cycle.speed_radius_m, &heat);
    let pressed = block.cycles() * block.contamination;
    Added {
        worn_m3: worn(spec, &cycle.dose, [top, bottom]).map(|volume| volume * pressed),
        galling: galling(spec, cycle.power_w, [top, bottom], &heat),
        hot_clearance_m: hot_clearance_m(spec, &heat),
        extrapolated,
    }
}

/// Share of the load on asperities at top and bottom. The seal works in the engine's oil; further down the stem's heat drives the oil off.
fn asperity_shares(spec: &Spec, block: &Block, speed_radius_m: f64, heat: &Heat) -> [f64; 2] {
    let viscosity_pa_s =
        spec.vogel.viscosity_pa_s(block.oil_k) * dilution_factor(block.fuel_fraction);
    let layer_m = spec
        .oil
        .layer_m(viscosity_pa_s, speed_radius_m * block.speed_rad_s);
    [heat.stem_top_k, heat.stem_bottom_k].map(|stem_k| spec.oil.asperity_share(layer_m, stem_k))
}

/// Volumes that one turn of the cam wears off the bore, in the order of the slots.
fn worn(spec: &Spec, dose: &SlideDose, [top, bottom]: [f64; 2]) -> [f64; 4] {
    let coefficient = spec.bore.wear_coefficient_m2_n;
    [
        worn_m3(coefficient, top, dose.top_plus_n_m),
        worn_m3(coefficient, top, dose.top_minus_n_m),
        worn_m3(coefficient, bottom, dose.bottom_plus_n_m),
        worn_m3(coefficient, bottom, dose.bottom_minus_n_m),
    ]
}

/// Galling index of the worse end: friction of what asperities carry, over what the pair bears.
fn galling(spec: &Spec, power_w: [f64; 2], shares: [f64; 2], heat: &Heat) -> f64 {
    let pair = spec.pair();
    let ends = power_w.iter().zip(shares);
    let ends = ends.zip([heat.stem_top_k, heat.stem_bottom_k]);
    let index = |((power_w, share), stem_k): ((&f64, f64), f64)| {
        let flux = share * power_w / spec.bearing_area_m2();
        pair.index(spec.bore.boundary_friction, flux, 1.0, stem_k)
    };
    ends.map(index).fold(0.0, f64::max)
}
