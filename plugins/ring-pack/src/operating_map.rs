//! What the model keeps of the contact at each node of the map, and the reference solution at full load.
//!
//! The state of the surfaces (unseated 1, 1/2, 0; crown new, half worn) is solved at each node and folded into the wear law.

use ringland_engine::Block;
use ringland_engine::rings::{self, ContactMap, Node};
use ringland_mechanics::film::pack::{Grid, Pack, Running, STATE_OF, STATES, Unsolved};
use ringland_plugin::{Finding, error};

use crate::spec::Spec;

/// Values of a row: logarithms of the doses of three faces in each state and of the bore at top-ring reversal, seated and fresh; friction
/// work, its boundary part, least film of the top ring, seated and new.
const ROW: usize = 3 * STATES + 5;
const BORE: usize = 3 * STATES;
const FRICTION: usize = BORE + 2;
const LAYOUT: (usize, u32) = (ROW, 2);
const REFERENCE: usize = 5;
/// Length of a prepared map.
pub const PREPARED: usize = REFERENCE + ContactMap::length(ROW);

/// Below this the logarithm of a dose is not followed \[Pa·m\].
const LEAST_DOSE_PA_M: f64 = 1e-6;

/// Solves the map.
///
/// # Errors
/// The operating point that has no solution, and why.
pub fn prepare(spec: &Spec) -> Result<Vec<f64>, Vec<Finding>> {
    let mut prepared = reference(spec).map_err(|why| {
        let remedy = "bring the spec nearer to the defaults of the card, field by field";
        vec![error(
            "spec",
            why.to_string().as_str(),
            "full load with a solution",
            remedy,
        )]
    })?;
    prepared.extend(rings::prepare(&spec.rings, LAYOUT, node)?);
    Ok(prepared)
}

fn node(point: &Node<'_>) -> Result<Vec<f64>, Unsolved> {
    let Node {
        pack,
        gas,
        speed_rad_s,
        temperature,
    } = point;
    let mut values = vec![0.0; ROW];
    let log = |dose: f64| libm::log(dose.max(LEAST_DOSE_PA_M));
    for ring in 0..3 {
        for (state, running) in STATE_OF.iter().enumerate() {
            let (cycle, stroke) =
                pack.ring_on_bore(ring, gas, *speed_rad_s, temperature, *running)?;
            values[STATES * ring + state] = log(cycle.dose_pa_m);
            if ring == 0 && *running == Running::FRESH {
                values[BORE + 1] = log(stroke.dose_pa_m(reversal_m(pack)));
            }
            if *running == Running::SEATED {
                values[FRICTION] += cycle.friction_j;
                values[FRICTION + 1] += cycle.boundary_friction_j;
                if ring == 0 {
                    values[BORE] = log(stroke.dose_pa_m(reversal_m(pack)));
                    values[FRICTION + 2] = cycle.least_film_m;
                }
            }
        }
    }
    Ok(values)
}

/// Where the bore wears most: half a face below the middle of the top ring at top dead centre, so that the whole face passes \[m\].
fn reversal_m(pack: &Pack<'_>) -> f64 {
    0.5 * pack.spec.rings[0].width_m
}

/// Blow-by at full load, seated, unseated, and seated with 0.1 mm of gap growth \[kg/s\]; charge flow \[kg/s\]; brake mean effective
/// pressure \[Pa\].
fn reference(spec: &Spec) -> Result<Vec<f64>, Unsolved> {
    let spec = &spec.rings.pack;
    let pack = Pack::new(spec, Grid::MAP)?;
    let at = |growth_m: f64, unseated: f64| {
        let (speed, imep_pa) = (spec.rated_speed_rad_s, spec.full_load_imep_pa);
        pack.gas(speed, imep_pa, growth_m, unseated)
    };
    let seated = at(0.0, 0.0)?;
    Ok(vec![
        seated.blow_by_kg_s,
        at(0.0, 1.0)?.blow_by_kg_s,
        at(REFERENCE_GROWTH_M, 0.0)?.blow_by_kg_s,
        seated.load.cycle.trapped_mass_kg / seated.load.cycle.period_s,
        seated.load.bmep_pa,
    ])
}

/// Gap growth of the third reference flow \[m\].
pub const REFERENCE_GROWTH_M: f64 = 1.0e-4;

/// What the reference solution at full load gave.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reference {
    /// Blow-by, seated \[kg/s\].
    pub blow_by_kg_s: f64,
    /// Blow-by, as built \[kg/s\].
    pub unseated_blow_by_kg_s: f64,
    /// Blow-by, seated, after [`REFERENCE_GROWTH_M`] \[kg/s\].
    pub grown_blow_by_kg_s: f64,
    /// Trapped charge \[kg/s\].
    pub charge_kg_s: f64,
    /// Brake mean effective pressure \[Pa\].
    pub bmep_pa: f64,
}

/// A prepared map.
#[derive(Debug, Clone, Copy)]
pub struct OperatingMap<'a> {
    reference: &'a [f64],
    contact: ContactMap<'a>,
}

/// One look-up.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Looked {
    /// Dose of each face in each state, for one cycle \[Pa·m\].
    pub dose_pa_m: [[f64; STATES]; 3],
    /// Dose of the bore at top-ring reversal, seated and fresh, under new crowns, for one cycle \[Pa·m\].
    pub bore_dose_pa_m: [f64; 2],
    /// Friction work of the pack, seated and new, for one cycle \[J\].
    pub friction_j: f64,
    /// The part of it on asperities \[J\].
    pub boundary_friction_j: f64,
    /// Least film under the top ring, seated and new \[m\].
    pub least_film_m: f64,
    /// Net indicated mean effective pressure \[Pa\].
    pub imep_pa: f64,
    /// Whether the point lies off the map.
    pub extrapolated: bool,
}

impl<'a> OperatingMap<'a> {
    /// Reads what [`prepare`] gave.
    ///
    /// # Errors
    /// A finding when it is something else.
    pub fn read(prepared: &'a [f64], spec: &Spec) -> Result<Self, Vec<Finding>> {
        let split = prepared.split_at_checked(REFERENCE);
        let finite = |reference: &[f64]| reference.iter().all(|value| value.is_finite());
        let Some((reference, rest)) = split.filter(|(reference, _)| finite(reference)) else {
            return Err(vec![error(
                "prepared",
                prepared.len() as f64,
                &format!("{PREPARED} finite numbers, as this version of the model prepares them"),
                "prepare the specimen again",
            )]);
        };
        let contact = ContactMap::read(rest, &spec.rings, LAYOUT)?;
        Ok(Self { reference, contact })
    }

    /// The reference solution.
    pub fn reference(&self) -> Reference {
        let at = |index: usize| self.reference[index];
        Reference {
            blow_by_kg_s: at(0),
            unseated_blow_by_kg_s: at(1),
            grown_blow_by_kg_s: at(2),
            charge_kg_s: at(3),
            bmep_pa: at(4),
        }
    }

    /// The contact part: torque to load, peak pressure.
    pub fn contact(&self) -> &ContactMap<'a> {
        &self.contact
    }

    /// Looks up a block.
    pub fn look_up(&self, spec: &Spec, block: &Block) -> Looked {
        let mut values = [0.0; ROW];
        let (imep_pa, outside) = self.contact.look_up_block(&spec.rings, block, &mut values);
        looked(&values, imep_pa, outside)
    }

    /// Looks up full load, rated speed, warm.
    pub fn full_load(&self, spec: &Spec) -> Looked {
        let mut values = [0.0; ROW];
        let outside = self.contact.look_up_full_load(&spec.rings, &mut values);
        looked(&values, spec.rings.pack.full_load_imep_pa, outside)
    }
}

fn looked(values: &[f64; ROW], imep_pa: f64, extrapolated: bool) -> Looked {
    let dose = |index: usize| libm::exp(values[index]);
    Looked {
        dose_pa_m: [0, 1, 2].map(|ring| std::array::from_fn(|state| dose(STATES * ring + state))),
        bore_dose_pa_m: [dose(BORE), dose(BORE + 1)],
        friction_j: values[FRICTION],
        boundary_friction_j: values[FRICTION + 1],
        least_film_m: values[FRICTION + 2],
        imep_pa,
        extrapolated,
    }
}
