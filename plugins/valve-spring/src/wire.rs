//! The wire as a material: strength over depth, and what a cycle of shear stress makes of it.
//!
//! At the surface Goodman's line in torsion gives what a mean shear stress takes: its slope is the strength over the ultimate strength in torsion.
//! Residual stress is no shear stress: alike in both directions of the surface, it counts by the sum of its normal stresses (G. Sines) with the
//! mean-stress sensitivity M of steel (FKM guideline). With `√3 τ` for torsion that is `2/√3 M` of it.
//!
//! Below the surface a crack starts at an inclusion, on the plane of the largest normal stress, where amplitude and mean are those of the shear stress and
//! residual stress adds to the mean. Its strength follows Y. Murakami, with his law of the stress ratio, `((1 − R)/2)^α`, `α = 0.226 + HV/10⁴`: the
//! same as K. Walker's with `γ = 1 − α`.

use ringland_mechanics::counting::{Cycle, FourPoint, NotFinite, closed_residue};
use ringland_mechanics::fatigue::damage::{StressBlock, equivalent_amplitude_pa};
use ringland_mechanics::fatigue::defect::{self, VICKERS_PA, murakami_limit_pa};
use ringland_mechanics::fatigue::marin::roughness_factor;
use ringland_mechanics::fatigue::mean_stress::{sensitivity_of_steel, walker};
use ringland_mechanics::fatigue::{BelowKnee, ResidualProfile, SnLine, Utilisation};
use ringland_mechanics::range::OutOfRange;
use ringland_mechanics::spring::wire::torsional_strength_pa;

use crate::constants::{
    DEEPEST_SHARE, KNEE_CYCLES, REFERENCE_RA_M, RETAINED, RZ_PER_RA, TORSION_INCLUSION_SHARE,
    TORSION_ROUGHNESS_SHARE,
};

/// Zones in which a crack may start: the surface layer, and what lies below.
pub const ZONES: usize = 2;
/// Utilisation beyond which a cycle is past all fatigue: the wire breaks at once.
const LARGEST: f64 = 20.0;

/// Range of a cycle over the largest of its history up to which it is not counted: at a slope of 10 it does less than a millionth of the harm, about a high
/// mean too.
const LEAST_RANGE: f64 = 0.06;

/// What the strength of a wire follows from.
#[derive(Debug, Clone, PartialEq)]
pub struct WireState {
    /// Diameter \[m\].
    pub wire_m: f64,
    /// Tensile strength \[Pa\].
    pub tensile_pa: f64,
    /// Fully reversed torsional strength at the reference roughness, not peened \[Pa\].
    pub strength_pa: f64,
    /// Slope of the S-N line.
    pub slope: f64,
    /// Hardness of the core \[Pa\].
    pub core_hardness_pa: f64,
    /// Root of the area of the largest inclusion \[m\].
    pub inclusion_root_area_m: f64,
    /// Roughness Ra \[m\].
    pub ra_m: f64,
    /// Hardness of the surface \[Pa\].
    pub surface_hardness_pa: f64,
    /// Residual stress as made.
    pub residual: ResidualProfile,
}

/// Strength of a wire.
#[derive(Debug, Clone, PartialEq)]
pub struct Wire {
    surface_pa: f64,
    mean_sensitivity: f64,
    residual_sensitivity: f64,
    core_pa: f64,
    core_gamma: f64,
    /// Places of each zone: depth \[m\], share of the stress at the surface, residual stress retained \[Pa\].
    places: [Vec<Place>; ZONES],
    line: SnLine,
}

impl Wire {
    /// Strength of a wire in a state.
    ///
    /// # Errors
    /// Numbers for which it is not defined.
    pub fn new(state: &WireState) -> Result<Self, OutOfRange> {
        let rough = torsion_roughness(state.ra_m, state.tensile_pa)?
            / torsion_roughness(REFERENCE_RA_M, state.tensile_pa)?;
        // Strength without flaws goes with HV + 120 (Murakami), at the surface as inside.
        let above = |pa: f64| pa / VICKERS_PA + 120.0;
        let hard = above(state.surface_hardness_pa) / above(state.core_hardness_pa);
        // An inclusion that does not touch the surface lies at least its own size deep.
        let layer_m = state.inclusion_root_area_m;
        let deepest_m = (DEEPEST_SHARE * state.wire_m).max(2.0 * layer_m);
        let inside = defect::Place::Inside;
        let inside_pa = murakami_limit_pa(state.core_hardness_pa, layer_m, inside);
        Ok(Self {
            surface_pa: rough * hard * state.strength_pa,
            mean_sensitivity: state.strength_pa / torsional_strength_pa(state.tensile_pa),
            residual_sensitivity: 2.0 / 3.0_f64.sqrt() * sensitivity_of_steel(state.tensile_pa),
            core_pa: TORSION_INCLUSION_SHARE * inside_pa,
            core_gamma: 1.0 - (0.226 + 1.0e-4 * state.core_hardness_pa / VICKERS_PA),
            places: [(0.0, layer_m), (layer_m, deepest_m)].map(|zone| places(state, zone)),
            line: SnLine::new(1.0, KNEE_CYCLES, state.slope, BelowKnee::Elementary)?,
        })
    }

    /// Fully reversed strength \[Pa\] at the surface and below the layer, without residual stress.
    pub fn strengths_pa(&self) -> [f64; ZONES] {
        [self.surface_pa, self.core_pa]
    }

    /// What a unit of mean shear stress takes of the strength of the surface, and a unit of residual stress.
    pub fn sensitivities(&self) -> [f64; 2] {
        [self.mean_sensitivity, self.residual_sensitivity]
    }

    /// Where a cycle of shear stress about a mean \[Pa\] bears hardest in each zone, against the strength at the knee.
    pub fn worst(&self, amplitude_pa: f64, mean_pa: f64) -> [Utilisation; ZONES] {
        let [surface, core] = &self.places;
        [
            worst_of(surface, |place| {
                self.at_surface(place.share * amplitude_pa, place.share * mean_pa, place)
            }),
            worst_of(core, |place| {
                let mean_pa = place.share * mean_pa + place.residual_pa;
                walker(place.share * amplitude_pa, mean_pa, self.core_gamma) / self.core_pa
            }),
        ]
    }

    fn at_surface(&self, amplitude_pa: f64, mean_pa: f64, place: &Place) -> f64 {
        let strength_pa = self.surface_pa
            - self.mean_sensitivity * mean_pa
            - self.residual_sensitivity * place.residual_pa;
        if strength_pa > 0.0 {
            amplitude_pa / strength_pa
        } else {
            f64::INFINITY
        }
    }

    /// Utilisation of both zones by a stress history that repeats \[Pa\]: that of one cycle that does the damage of all.
    ///
    /// # Errors
    /// A stress that is not finite.
    pub fn utilisation(&self, trace_pa: &[f64]) -> Result<[f64; ZONES], NotFinite> {
        let mut blocks = [const { Vec::new() }; ZONES];
        let cycles = cycles(trace_pa)?;
        let largest_pa = cycles.iter().map(|cycle| cycle.range).fold(0.0, f64::max);
        for cycle in cycles
            .iter()
            .filter(|cycle| cycle.range > LEAST_RANGE * largest_pa)
        {
            let worst = self.worst(0.5 * cycle.range, cycle.mean);
            for (blocks, worst) in blocks.iter_mut().zip(worst) {
                blocks.push(StressBlock {
                    amplitude_pa: worst.share.min(LARGEST),
                    cycles: cycle.count,
                });
            }
        }
        Ok(blocks.map(|blocks| {
            let count: f64 = blocks.iter().map(|block| block.cycles).sum();
            let slope = self.line.slope();
            equivalent_amplitude_pa(&blocks, slope) * libm::pow(count, 1.0 / slope)
        }))
    }

    /// Damage of one turn at a utilisation: 1 is the life of half of wires.
    pub fn damage(&self, utilisation: f64) -> f64 {
        self.line.damage(utilisation, 1.0)
    }

    /// By how much ln(strength at the surface) falls as ln(Ra) grows.
    pub fn roughness_slope(&self, ra_m: f64, tensile_pa: f64) -> f64 {
        let Ok(factor) = torsion_roughness(ra_m, tensile_pa) else {
            return 0.0;
        };
        if RZ_PER_RA * ra_m <= 1.0e-6 {
            return 0.0; // smooth: the factor is 1
        }
        let steel = 0.22 * libm::log10(2.0 * tensile_pa / 4.0e8);
        TORSION_ROUGHNESS_SHARE * steel / std::f64::consts::LN_10 / factor
    }
}

/// A place below the surface.
#[derive(Debug, Clone, Copy, PartialEq)]
struct Place {
    depth_m: f64,
    /// Stress there over that at the surface.
    share: f64,
    /// Residual stress that is retained \[Pa\].
    residual_pa: f64,
}

/// Parts of a stretch between nodes of the residual-stress profile.
const PARTS: u32 = 4;

/// Places of a zone: its ends, the nodes of the profile within it, and places between them.
fn places(state: &WireState, (from_m, to_m): (f64, f64)) -> Vec<Place> {
    let mut nodes_m = vec![from_m];
    nodes_m.extend(
        state
            .residual
            .depths_m()
            .filter(|z| *z > from_m && *z < to_m),
    );
    nodes_m.push(to_m);
    let between = nodes_m.windows(2).flat_map(|pair| {
        let step_m = (pair[1] - pair[0]) / f64::from(PARTS);
        (0..PARTS).map(move |part| pair[0] + f64::from(part) * step_m)
    });
    let place = |depth_m: f64| Place {
        depth_m,
        // Torsion falls to nothing at the middle of the wire; at the inside of a coil sooner.
        share: 1.0 - 2.0 * depth_m / state.wire_m,
        residual_pa: RETAINED * state.residual.at(depth_m),
    };
    between.chain([to_m]).map(place).collect()
}

fn worst_of(places: &[Place], share: impl Fn(&Place) -> f64) -> Utilisation {
    let mut worst = Utilisation {
        share: 0.0,
        depth_m: 0.0,
    };
    for place in places {
        let share = share(place);
        if share > worst.share {
            worst = Utilisation {
                share,
                depth_m: place.depth_m,
            };
        }
    }
    worst
}

/// Loss of torsional strength by roughness.
fn torsion_roughness(ra_m: f64, tensile_pa: f64) -> Result<f64, OutOfRange> {
    let axial = roughness_factor(RZ_PER_RA * ra_m, tensile_pa)?;
    Ok(1.0 - TORSION_ROUGHNESS_SHARE * (1.0 - axial))
}

/// Stress cycles of one turn, which repeats.
///
/// # Errors
/// A stress that is not finite.
pub fn cycles(trace_pa: &[f64]) -> Result<Vec<Cycle>, NotFinite> {
    let mut cycles = Vec::new();
    let mut counting = FourPoint::new();
    for &stress_pa in trace_pa {
        counting.push(stress_pa, &mut |cycle| cycles.push(cycle))?;
    }
    let residue = counting.finish(&mut |cycle| cycles.push(cycle));
    cycles.extend(closed_residue(&residue));
    Ok(cycles)
}
