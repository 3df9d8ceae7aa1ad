//! How strong the fillets are: local strength over depth from hardness, residual stress and roughness, against a stress that falls with
//! depth.

use ringland_mechanics::fatigue::defect::{
    el_haddad_length_m, limit_range_with_defect_pa, small_crack_threshold_pa_sqrt_m,
};
use ringland_mechanics::fatigue::mean_stress::sensitivity_of_steel;
use ringland_mechanics::fatigue::notch::relative_gradient_per_m;
use ringland_mechanics::fatigue::{NearSurface, ResidualProfile};

use crate::constants::{
    CASE_END, CASE_OVER_CORE_HV, CRACK_THRESHOLD, DEFECT_HV, MPA_PER_HV, NOSE_RA_M, NOTCH_OVER_RA,
    RETAINED, ROUGHNESS_DEPTH_M, SURFACE_CRACK,
};
use crate::spec::Spec;

/// Pa in one HV.
const VICKERS_PA: f64 = ringland_mechanics::fatigue::defect::VICKERS_PA;
/// Deepest place looked at \[m\].
const DEEPEST_M: f64 = 3.0e-3;
/// Largest utilisation counted: beyond, the part breaks at once.
const MOST_UTILISATION: f64 = 10.0;

/// Strength of one kind of fillet. Stress, strength and residual stress being straight between nodes and stress proportional to load, the
/// least of strength over share of stress is one number for each branch of the mean-stress law, whatever the load.
#[derive(Debug, Clone, PartialEq)]
pub struct Strength {
    /// Least of (strength − M · retained residual stress)/share of stress over depth \[Pa\].
    bearing_pa: f64,
    /// Where that is \[m\].
    pub start_m: f64,
    /// Least of strength/share of stress over depth \[Pa\], which counts where compression closes the cycle.
    closed_pa: f64,
    sensitivity: f64,
    layer: Layer,
}

/// The layer below the root of a fillet.
#[derive(Debug, Clone, PartialEq)]
struct Layer {
    nodes: Vec<(f64, f64)>,
    residual: ResidualProfile,
    gradient_per_m: f64,
    least_share: f64,
}

impl Strength {
    /// Of a fillet of a radius \[m\] with a stress-concentration factor, treated as the fillet surface says (`treated`) or bare as the nose,
    /// ground by a depth \[m\].
    pub fn new(
        spec: &Spec,
        radius_m: f64,
        concentration: f64,
        treated: bool,
        ground_m: f64,
    ) -> Self {
        let layer = Layer {
            nodes: strength_over_depth(spec, treated, ground_m),
            residual: if treated {
                shifted(&spec.fillet.residual, ground_m)
            } else {
                ResidualProfile::default()
            },
            gradient_per_m: relative_gradient_per_m(radius_m),
            least_share: 1.0 / concentration.max(1.0),
        };
        let sensitivity = sensitivity_of_steel(spec.tensile_strength_pa);
        // So large that no compression closes the cycle.
        let open_pa = 1.0e15;
        let open = layer.near(sensitivity).worst(open_pa, 0.0, 0.0, DEEPEST_M);
        let none = ResidualProfile::default();
        let without = NearSurface {
            residual: &none,
            ..layer.near(sensitivity)
        };
        let closed = without.worst(1.0, 0.0, 0.0, DEEPEST_M);
        Self {
            bearing_pa: open_pa / open.share,
            start_m: open.depth_m,
            closed_pa: 1.0 / closed.share,
            sensitivity,
            layer,
        }
    }

    /// Amplitude over local strength at the worst depth, for an amplitude about a mean at the root \[Pa\].
    pub fn utilisation(&self, amplitude_pa: f64, mean_pa: f64) -> f64 {
        if amplitude_pa <= 0.0 {
            return 0.0;
        }
        let open_pa = self.bearing_pa - self.sensitivity * mean_pa;
        let closed_pa = self.closed_pa + self.sensitivity * amplitude_pa;
        let strength_pa = open_pa.min(closed_pa);
        if strength_pa > 0.0 {
            (amplitude_pa / strength_pa).min(MOST_UTILISATION)
        } else {
            MOST_UTILISATION
        }
    }

    /// The same, place by place: for checks.
    pub fn utilisation_by_depth(&self, amplitude_pa: f64, mean_pa: f64) -> f64 {
        let layer = self.layer.near(self.sensitivity);
        layer.worst(amplitude_pa, mean_pa, 0.0, DEEPEST_M).share
    }

    /// Least depth \[m\] of a surface crack that grows, and goes on growing to 1 mm, under an amplitude about a mean at the root \[Pa\]:
    /// stress averaged over the depth of the crack, against the threshold of a small crack (M. H. El Haddad and others). Tension about which the
    /// stress swings counts by the mean-stress sensitivity; compression closes the crack and counts in full. 1 mm when none grows.
    pub fn growing_crack_m(&self, amplitude_pa: f64, mean_pa: f64) -> f64 {
        let length_m = small_crack_m(self.core_pa());
        let steps = 200;
        let depth_m = |k: u32| 1.0e-3 * f64::from(k) / f64::from(steps);
        let layer = &self.layer;
        let mut sum_pa = 0.0;
        let mut grows_from_m = 0.0;
        for k in 1..=steps {
            let middle_m = 0.5 * (depth_m(k) + depth_m(k - 1));
            let share = (1.0 - layer.gradient_per_m * middle_m).max(layer.least_share);
            let about_pa = mean_pa * share + RETAINED * layer.residual.at(middle_m);
            let weight = if about_pa > 0.0 {
                self.sensitivity
            } else {
                1.0
            };
            sum_pa += (amplitude_pa * share + weight * about_pa).max(0.0);
            let crack_m = depth_m(k);
            let range =
                SURFACE_CRACK * (sum_pa / f64::from(k)) * (std::f64::consts::PI * crack_m).sqrt();
            let threshold = small_crack_threshold_pa_sqrt_m(CRACK_THRESHOLD, crack_m, length_m);
            if range < threshold {
                grows_from_m = crack_m;
            }
        }
        grows_from_m
    }

    /// Spread of ln(strength) of treated pin fillets from what is not known of their surface.
    pub fn surface_ln_sd(spec: &Spec, concentration: f64, ground_m: f64) -> f64 {
        let bearing = |spec: &Spec| {
            Self::new(spec, spec.pin_fillet_m, concentration, true, ground_m).bearing_pa
        };
        let known = bearing(spec);
        let step = 0.05;
        let part = |property: usize| {
            let mut moved = spec.clone();
            let fillet = &mut moved.fillet;
            let value = match property {
                0 => &mut fillet.hardness_pa,
                1 => &mut fillet.ra_m,
                _ => &mut fillet.case_depth_m,
            };
            *value *= 1.0 + step;
            let slope = libm::log(bearing(&moved) / known) / libm::log1p(step);
            slope * spec.fillet.ln_sd[property]
        };
        let parts = [0, 1, 2].map(part);
        parts.iter().map(|sd| sd * sd).sum::<f64>().sqrt()
    }

    fn core_pa(&self) -> f64 {
        self.layer.nodes.last().map_or(0.0, |node| node.1)
    }
}

impl Layer {
    fn near(&self, sensitivity: f64) -> NearSurface<'_> {
        NearSurface {
            gradient_per_m: self.gradient_per_m,
            least_share: self.least_share,
            strength: &self.nodes,
            residual: &self.residual,
            retained: RETAINED,
            sensitivity,
        }
    }
}

/// Length that marks a small crack \[m\] for a fully reversed strength \[Pa\], whose tension part is as large as its amplitude.
fn small_crack_m(strength_pa: f64) -> f64 {
    el_haddad_length_m(CRACK_THRESHOLD, strength_pa, SURFACE_CRACK)
}

/// Hardness of the core \[HV\].
pub fn core_hv(spec: &Spec) -> f64 {
    1.0e-6 * spec.tensile_strength_pa / MPA_PER_HV
}

/// Strength over depth \[m, Pa\]: that of the core times what the case is harder, and what the roughness of the surface takes as a small crack.
/// Strength goes with hardness as that of steel with small defects does, HV + 120 (Y. Murakami). The case falls in a straight line to 50 HV above
/// the core at its depth (ISO 18203), and to the core soon after.
fn strength_over_depth(spec: &Spec, treated: bool, ground_m: f64) -> Vec<(f64, f64)> {
    let core_hv = core_hv(spec);
    let surface_hv = spec.fillet.hardness_pa / VICKERS_PA;
    let case_m = spec.fillet.case_depth_m;
    let end_m = CASE_END * case_m;
    let rise_hv = if treated && case_m > 0.0 {
        surface_hv - core_hv
    } else {
        0.0
    };
    let foot_hv = rise_hv.min(CASE_OVER_CORE_HV);
    let at = |depth_m: f64| {
        let from_surface_m = depth_m + ground_m;
        let harder_hv = if from_surface_m < case_m {
            rise_hv + (foot_hv - rise_hv) * from_surface_m / case_m
        } else if from_surface_m < end_m {
            foot_hv * (end_m - from_surface_m) / (end_m - case_m)
        } else {
            0.0
        };
        spec.strength_pa * (core_hv + DEFECT_HV + harder_hv) / (core_hv + DEFECT_HV)
    };
    let smooth_pa = at(0.0);
    let ra_m = if treated { spec.fillet.ra_m } else { NOSE_RA_M };
    let notch_m = NOTCH_OVER_RA * ra_m;
    let rough_pa = limit_range_with_defect_pa(smooth_pa, notch_m, small_crack_m(smooth_pa));
    let mut nodes = vec![(0.0, rough_pa), (ROUGHNESS_DEPTH_M, at(ROUGHNESS_DEPTH_M))];
    let kinks = [case_m - ground_m, end_m - ground_m];
    let below = kinks.iter().filter(|depth| **depth > ROUGHNESS_DEPTH_M);
    nodes.extend(below.map(|depth| (*depth, at(*depth))));
    nodes
}

/// A residual-stress profile with its outer layer ground off. Stress that the layer held in balance is not redistributed.
fn shifted(profile: &ResidualProfile, ground_m: f64) -> ResidualProfile {
    if ground_m <= 0.0 || profile.is_empty() {
        return profile.clone();
    }
    let (mut depth_m, mut stress_pa) = (vec![0.0], vec![profile.at(ground_m)]);
    let (depths, stresses) = profile.columns();
    for (depth, stress) in depths.iter().zip(stresses) {
        if *depth > ground_m {
            depth_m.push(depth - ground_m);
            stress_pa.push(stress);
        }
    }
    // Depths rise and stresses are finite: they come from a profile.
    ResidualProfile::new(&depth_m, &stress_pa).unwrap_or_default()
}
