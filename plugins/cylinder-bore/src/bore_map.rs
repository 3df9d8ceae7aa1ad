//! What the model keeps of the contact at each node of the map: the doses of the bore along the stroke in every state.

use ringland_engine::Block;
use ringland_engine::rings::{self, ContactMap, Node};
use ringland_mechanics::film::pack::{PackSpec, Running, STATE_OF, STATES, Unsolved};
use ringland_plugin::Finding;

use crate::constants::JUDGED_BELOW_M;
use crate::spec::Spec;

/// Heights at which wear is followed.
pub const HEIGHTS: usize = 5;
/// Index of top-ring reversal.
pub const REVERSAL: usize = 0;
/// Index of mid-stroke.
pub const MIDDLE: usize = 3;
/// Index of the lower reversal of the top ring.
pub const BOTTOM: usize = 4;

const ROW: usize = HEIGHTS * STATES;
const LAYOUT: (usize, u32) = (ROW, 1);
/// Length of a prepared map.
pub const PREPARED: usize = ContactMap::length(ROW);

/// Below this the logarithm of a dose is not followed \[Pa·m\].
const LEAST_DOSE_PA_M: f64 = 1e-6;

/// The heights, below the middle of the top ring at top dead centre \[m\]: where the whole face of the top ring still passes at its
/// reversal, 6.7 mm and a quarter of the stroke below, mid-stroke, lower reversal.
pub fn heights_m(spec: &PackSpec) -> [f64; HEIGHTS] {
    let half_m = 0.5 * spec.rings[0].width_m;
    let stroke_m = spec.stroke_m;
    [
        half_m,
        half_m + JUDGED_BELOW_M,
        0.25 * stroke_m,
        0.5 * stroke_m,
        stroke_m - half_m,
    ]
}

/// Solves the map.
///
/// # Errors
/// The operating point that has no solution, and why.
pub fn prepare(spec: &Spec) -> Result<Vec<f64>, Vec<Finding>> {
    rings::prepare(&spec.rings, LAYOUT, node)
}

/// Every ring rubs the bore; each stands lower than the top ring by its place on the piston. Only the top ring's crown is followed.
fn node(point: &Node<'_>) -> Result<Vec<f64>, Unsolved> {
    let spec = point.pack.spec;
    let heights_m = heights_m(spec);
    let mut doses = [0.0; ROW];
    for ring in 0..3 {
        let below_m = spec.below_top_ring_m(ring);
        let (pack, gas, temperature) = (point.pack, point.gas, point.temperature);
        let on_bore = |running: &Running| {
            let solved = pack.ring_on_bore(ring, gas, point.speed_rad_s, temperature, *running);
            let (_, stroke) = solved?;
            Ok(heights_m.map(|height_m| stroke.dose_pa_m(height_m - below_m)))
        };
        // The first half of the states has new crowns: lower rings keep theirs.
        let solved = if ring == 0 { STATES } else { STATES / 2 };
        let by_state = STATE_OF[..solved].iter().map(on_bore);
        let by_state: Vec<[f64; HEIGHTS]> = by_state.collect::<Result<_, Unsolved>>()?;
        for (state, along) in by_state.iter().cycle().take(STATES).enumerate() {
            for (at, dose) in along.iter().enumerate() {
                doses[STATES * at + state] += dose;
            }
        }
    }
    let log = |dose: &f64| libm::log(dose.max(LEAST_DOSE_PA_M));
    Ok(doses.iter().map(log).collect())
}

/// A prepared map.
#[derive(Debug, Clone, Copy)]
pub struct BoreMap<'a> {
    contact: ContactMap<'a>,
}

/// One look-up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Looked {
    /// Dose of the bore at each height in each state, for one cycle \[Pa·m\].
    pub dose_pa_m: [[f64; STATES]; HEIGHTS],
    /// Net indicated mean effective pressure \[Pa\].
    pub imep_pa: f64,
    /// Whether the point lies off the map.
    pub extrapolated: bool,
}

impl<'a> BoreMap<'a> {
    /// Reads what [`prepare`] gave.
    ///
    /// # Errors
    /// A finding when it is something else.
    pub fn read(prepared: &'a [f64], spec: &Spec) -> Result<Self, Vec<Finding>> {
        let contact = ContactMap::read(prepared, &spec.rings, LAYOUT)?;
        Ok(Self { contact })
    }

    /// Looks up a block.
    pub fn look_up(&self, spec: &Spec, block: &Block) -> Looked {
        let mut values = [0.0; ROW];
        let (imep_pa, extrapolated) = self.contact.look_up_block(&spec.rings, block, &mut values);
        looked(&values, imep_pa, extrapolated)
    }

    /// Looks up full load, rated speed, warm.
    pub fn full_load(&self, spec: &Spec) -> Looked {
        let mut values = [0.0; ROW];
        let extrapolated = self.contact.look_up_full_load(&spec.rings, &mut values);
        looked(&values, spec.rings.pack.full_load_imep_pa, extrapolated)
    }
}

fn looked(values: &[f64; ROW], imep_pa: f64, extrapolated: bool) -> Looked {
    let dose = |at: usize, state: usize| libm::exp(values[STATES * at + state]);
    Looked {
        dose_pa_m: std::array::from_fn(|at| std::array::from_fn(|state| dose(at, state))),
        imep_pa,
        extrapolated,
    }
}
