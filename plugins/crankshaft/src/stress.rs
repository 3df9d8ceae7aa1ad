//! From forces and vibratory torque to the stress cycles of each site over 720°.

use ringland_engine::CycleLoads;
use ringland_mechanics::counting::{Cycle, rainflow};
use ringland_mechanics::fatigue::damage::{StressBlock, equivalent_amplitude_pa};
use ringland_mechanics::fatigue::notch::{
    fatigue_notch_factor, neuber_root_m, neuber_root_torsion_m, neuber_sensitivity,
};
use ringland_mechanics::range::OutOfRange;
use ringland_mechanics::shaft::{
    Harmonics, ShoulderLoad, shoulder_concentration, torsion_stress_pa,
};

use crate::spec::Spec;
use crate::torsion::Vibration;

/// Fatigue notch factors of the sites.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NotchFactors {
    /// Pin fillet: bending, torsion.
    pub pin: [f64; 2],
    /// Journal fillet: bending, torsion.
    pub journal: [f64; 2],
    /// Journal fillet: radial shear of the web.
    pub journal_shear: f64,
    /// Shoulder of the nose, torsion.
    pub nose: f64,
    /// Stress-concentration factors of pin and journal fillet in bending.
    pub concentration: [f64; 2],
}

impl NotchFactors {
    /// Stress-concentration factors lowered by Neuber's notch sensitivity, for a crank ground by so much on the radius \[m\].
    ///
    /// # Errors
    /// A dimension out of the range of a factor.
    pub fn new(spec: &Spec, ground_m: f64) -> Result<Self, OutOfRange> {
        let factors = spec.web(ground_m).factors()?;
        let bending = neuber_root_m(spec.tensile_strength_pa)?;
        let torsion = neuber_root_torsion_m(spec.tensile_strength_pa)?;
        let felt = |factor: f64, root: f64, radius_m: f64| {
            fatigue_notch_factor(factor, neuber_sensitivity(root, radius_m))
        };
        let (pin_m, journal_m) = (spec.pin_fillet_m, spec.journal_fillet_m);
        let nose = shoulder_concentration(
            ShoulderLoad::Torsion,
            spec.journal_diameter_m / spec.nose_diameter_m,
            spec.nose_fillet_m / spec.nose_diameter_m,
        )?;
        Ok(Self {
            pin: [
                felt(factors.alpha_b, bending, pin_m),
                felt(factors.alpha_t, torsion, pin_m),
            ],
            journal: [
                felt(factors.beta_b, bending, journal_m),
                felt(factors.beta_t, torsion, journal_m),
            ],
            journal_shear: felt(factors.beta_q, bending, journal_m),
            nose: felt(nose, torsion, spec.nose_fillet_m),
            concentration: [factors.alpha_b, factors.beta_b],
        })
    }
}

/// What one engine cycle does to a site.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct CycleStress {
    /// Amplitude of local equivalent stress \[Pa\] that once a cycle does the damage of all its rainflow cycles.
    pub amplitude_pa: f64,
    /// Mean stress of those cycles, weighed by their damage \[Pa\].
    pub mean_pa: f64,
    /// Share of torsion in the square of the amplitude, 0 to 1.
    pub torsion_share: f64,
}

/// Stress of one throw over its own angle, without torsion.
#[derive(Debug, Clone, PartialEq)]
pub struct ThrowBending {
    /// Local stress of the pin fillet \[Pa\].
    pub pin_pa: Vec<f64>,
    /// Local stress of the journal fillets \[Pa\].
    pub journal_pa: Vec<f64>,
}

/// Bending of a throw that stands on its two main bearings, the force of the rod in the middle of the pin: moment in the middle of
/// the web is the reaction times the distance of the web from the bearing. A force towards the axis pulls on the pin fillet (inner
/// side of the pin) and pushes on the journal fillet. The throw's own unbalance pulls outwards.
pub fn bending(spec: &Spec, factors: &NotchFactors, loads: &CycleLoads) -> ThrowBending {
    let web = spec.web(0.0);
    let speed = loads.speed_rad_s;
    let outward_n = spec.throw_unbalance_kg_m * speed * speed;
    let points = loads.angle_rad.len();
    let mut throw = ThrowBending {
        pin_pa: Vec::with_capacity(points),
        journal_pa: Vec::with_capacity(points),
    };
    for point in 0..points {
        let along_n = loads.pin_in_crank(point).map_or(0.0, |pin| pin.along_n);
        let reaction_n = -0.5 * (along_n + outward_n);
        let bending_pa = web.bending_stress_pa(reaction_n * spec.web_arm_m());
        let shear_pa = web.shear_stress_pa(reaction_n);
        throw.pin_pa.push(factors.pin[0] * bending_pa);
        let journal_pa = factors.journal[0] * bending_pa + factors.journal_shear * shear_pa;
        throw.journal_pa.push(-journal_pa);
    }
    throw
}

/// Stress cycles of every site: pin fillet of each throw, then journal fillets of each throw (the worse of its two), then the shoulder of
/// the nose.
///
/// # Errors
/// A stress that is not finite.
pub fn sites(
    spec: &Spec,
    factors: &NotchFactors,
    bending: &ThrowBending,
    vibration: &Vibration,
    harmonics: &Harmonics,
) -> Result<Vec<CycleStress>, OutOfRange> {
    let points = bending.pin_pa.len();
    let mut pins = Vec::with_capacity(2 * spec.throws() + 1);
    let mut journals = Vec::with_capacity(spec.throws());
    for throw in 0..spec.throws() {
        let [front, rear] = vibration.about_throw(spec, throw);
        let [front, rear] = [front, rear].map(|torque| harmonics.trace(&torque));
        let journal_pa = |torque_n_m: &f64| {
            factors.journal[1] * torsion_stress_pa(*torque_n_m, spec.journal_diameter_m)
        };
        // Statics of the throw: the pin carries the mean of the torques before and after it.
        let pin_pa = |(before, after): (&f64, &f64)| {
            factors.pin[1] * torsion_stress_pa(0.5 * (before + after), spec.pin_diameter_m)
        };
        let shear: Vec<f64> = front.iter().zip(&rear).map(pin_pa).collect();
        pins.push(cycle_stress(&bending.pin_pa, &shear, spec.sn_slope)?);
        let mut worse = CycleStress::default();
        for torque in [&front, &rear] {
            let shear: Vec<f64> = torque.iter().map(journal_pa).collect();
            let side = cycle_stress(&bending.journal_pa, &shear, spec.sn_slope)?;
            if side.amplitude_pa > worse.amplitude_pa {
                worse = side;
            }
        }
        journals.push(worse);
    }
    let nose = harmonics.trace(&vibration.nose());
    let nose_pa = |torque: &f64| factors.nose * torsion_stress_pa(*torque, spec.nose_diameter_m);
    let nose: Vec<f64> = nose.iter().map(nose_pa).collect();
    pins.extend(journals);
    pins.push(cycle_stress(&vec![0.0; points], &nose, spec.sn_slope)?);
    Ok(pins)
}

/// Directions tried in the plane of normal and shear stress, then refined between the best ones.
const DIRECTIONS: u32 = 12;

/// Rainflow of a periodic trace of normal and shear stress \[Pa\], with the share of torsion in the square of the stress that is counted. In the
/// plane of σ and √3 τ the distance of two states is the von Mises stress of their difference; the trace is projected on the direction in
/// which it is longest, and the projection counted. Exact for proportional stress; for others the range is that of the longest chord. The
/// mean of the shear stress is taken off first: it does no damage below yield (G. Sines).
///
/// # Errors
/// A stress that is not finite.
pub fn counted(normal_pa: &[f64], shear_pa: &[f64]) -> Result<(Vec<Cycle>, f64), OutOfRange> {
    let mean_shear = shear_pa.iter().sum::<f64>() / shear_pa.len().max(1) as f64;
    let across: Vec<f64> = shear_pa
        .iter()
        .map(|shear| 3.0_f64.sqrt() * (shear - mean_shear))
        .collect();
    let (cos, sin) = longest(normal_pa, &across);
    let pairs = normal_pa.iter().zip(&across);
    let projected: Vec<f64> = pairs.map(|(s, t)| cos * s + sin * t).collect();
    let cycles = rainflow(&from_highest(&projected)).map_err(|refused| OutOfRange {
        field: "stress_pa",
        value: refused.value,
        expected: "a finite stress",
    })?;
    Ok((cycles, sin * sin))
}

/// [`counted`] cycles as one: with the slope of the S-N line it does the same damage.
///
/// # Errors
/// A stress that is not finite.
pub fn cycle_stress(
    normal_pa: &[f64],
    shear_pa: &[f64],
    slope: f64,
) -> Result<CycleStress, OutOfRange> {
    let (cycles, torsion_share) = counted(normal_pa, shear_pa)?;
    let block = |cycle: &Cycle| StressBlock {
        amplitude_pa: 0.5 * cycle.range,
        cycles: cycle.count,
    };
    let blocks: Vec<StressBlock> = cycles.iter().map(block).collect();
    let count: f64 = blocks.iter().map(|block| block.cycles).sum();
    let amplitude_pa = equivalent_amplitude_pa(&blocks, slope) * libm::pow(count, 1.0 / slope);
    let (mut weight, mut weighted) = (0.0, 0.0);
    for (block, cycle) in blocks.iter().zip(&cycles) {
        let harm = block.cycles * libm::pow(block.amplitude_pa / amplitude_pa.max(1.0), slope);
        weight += harm;
        weighted += harm * cycle.mean;
    }
    Ok(CycleStress {
        amplitude_pa,
        mean_pa: if weight > 0.0 { weighted / weight } else { 0.0 },
        torsion_share,
    })
}

/// Cosine and sine of the direction in which a trace is longest.
fn longest(along: &[f64], across: &[f64]) -> (f64, f64) {
    let step = std::f64::consts::PI / f64::from(DIRECTIONS);
    let length = |angle: f64| {
        let (cos, sin) = (libm::cos(angle), libm::sin(angle));
        let pairs = along.iter().zip(across);
        let (low, high) = pairs.fold((f64::MAX, f64::MIN), |(low, high), (s, t)| {
            let projected = cos * s + sin * t;
            (low.min(projected), high.max(projected))
        });
        high - low
    };
    let mut best = (0.0, length(0.0));
    let mut consider = |angle: f64| {
        let found = length(angle);
        if found > best.1 {
            best = (angle, found);
        }
        best.0
    };
    let mut centre = 0.0;
    for k in 1..DIRECTIONS {
        centre = consider(step * f64::from(k));
    }
    for half in [0.5, 0.25, 0.125] {
        consider(centre - half * step);
        centre = consider(centre + half * step);
    }
    // Turned so that tension stays tension.
    let (cos, sin) = (libm::cos(centre), libm::sin(centre));
    if cos < 0.0 { (-cos, -sin) } else { (cos, sin) }
}

/// A periodic trace, turned to begin and end at its highest point, so that its count has no open ranges.
fn from_highest(trace: &[f64]) -> Vec<f64> {
    let highest = (0..trace.len()).max_by(|a, b| trace[*a].total_cmp(&trace[*b]));
    let Some(at) = highest else {
        return Vec::new();
    };
    let mut turned = trace[at..].to_vec();
    turned.extend(&trace[..=at]);
    turned
}
