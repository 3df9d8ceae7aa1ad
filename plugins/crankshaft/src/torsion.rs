//! Torsional vibration of the crankshaft: damper ring, hub, throws, flywheel as a chain, driven by the harmonics of gas and inertia
//! torque of every throw in its firing phase.

use std::f64::consts::PI;

use ringland_engine::CycleLoads;
use ringland_mechanics::range::OutOfRange;
use ringland_mechanics::shaft::{Complex, Disc, Harmonics, Shaft, TorsionalChain};

use crate::constants::{AGED_LOSS, AGED_STIFFNESS};
use crate::spec::Spec;

/// Harmonics of the cycle that are followed: engine orders 0.5 to 12.
pub const HARMONICS: usize = 24;
/// Discs before the first throw: damper ring, hub.
const BEFORE: usize = 2;

/// Response at an operating point. Complex amplitudes by harmonic k of the cycle (order k/2), index 0 empty: mean torques are left out, they
/// do no fatigue damage.
#[derive(Debug, Clone, PartialEq)]
pub struct Vibration {
    /// Vibratory torque in each shaft section \[N·m\], from the one between damper ring and hub to the one before the flywheel; a row for
    /// each harmonic.
    pub sections_n_m: Vec<Vec<Complex>>,
    /// Twist of the hub against the flywheel \[rad\] by harmonic.
    pub twist_rad: Vec<Complex>,
    /// Mean power that the damper turns into heat \[W\].
    pub damper_w: f64,
}

/// The chain with a damper aged from 0 (new) to 1.
///
/// # Errors
/// A number that makes no chain.
pub fn chain(spec: &Spec, aged: f64) -> Result<TorsionalChain, OutOfRange> {
    let radius_m = 0.5 * spec.engine.stroke_m;
    // Mean of the inertia over a turn: half the reciprocating mass moves with the pin (textbook).
    let rod = spec.engine.rotating_rod_mass_kg + 0.5 * spec.engine.reciprocating_mass_kg;
    let disc = |inertia_kg_m2, damping_n_m_s_rad| Disc {
        inertia_kg_m2,
        damping_n_m_s_rad,
    };
    let shaft = |stiffness_n_m_rad, loss_factor| Shaft {
        stiffness_n_m_rad,
        loss_factor,
        damping_n_m_s_rad: 0.0,
    };
    let throw = disc(
        spec.throw_inertia_kg_m2 + rod * radius_m * radius_m,
        spec.throw_damping_n_m_s_rad,
    );
    let ring = spec.damper_ring_inertia_kg_m2;
    let mut discs = vec![disc(ring, 0.0), disc(spec.hub_inertia_kg_m2, 0.0)];
    discs.extend(vec![throw; spec.throws()]);
    discs.push(disc(spec.flywheel_inertia_kg_m2, 0.0));
    let rubber = ring * spec.damper_frequency_rad_s * spec.damper_frequency_rad_s;
    let mut shafts = vec![
        shaft(
            rubber * (1.0 + (AGED_STIFFNESS - 1.0) * aged),
            spec.damper_loss_factor * (1.0 + (AGED_LOSS - 1.0) * aged),
        ),
        shaft(spec.nose_stiffness_n_m_rad(), spec.shaft_loss_factor),
    ];
    let between = shaft(spec.throw_stiffness_n_m_rad(), spec.shaft_loss_factor);
    shafts.extend(vec![between; spec.throws() - 1]);
    // From the last throw through half a throw to the flange.
    let last = shaft(2.0 * spec.throw_stiffness_n_m_rad(), spec.shaft_loss_factor);
    shafts.push(last);
    TorsionalChain::new(discs, shafts)
}

/// Harmonics of the torque of one throw about its own firing dead centre, k from 0.
pub fn torque_harmonics(harmonics: &Harmonics, loads: &CycleLoads) -> Vec<Complex> {
    let torque: Vec<f64> = loads.forces.iter().map(|f| f.torque_n_m).collect();
    harmonics.of(&torque, HARMONICS)
}

/// Forced response of a chain at a crank speed \[rad/s\] to the torque of every throw. Phases are those of the trace of a throw
/// that fires at angle 0.
///
/// # Errors
/// A speed out of range.
pub fn respond(
    spec: &Spec,
    chain: &TorsionalChain,
    speed_rad_s: f64,
    torque: &[Complex],
) -> Result<Vibration, OutOfRange> {
    let mut vibration = Vibration {
        sections_n_m: vec![Vec::new()],
        twist_rad: vec![Complex::default()],
        damper_w: 0.0,
    };
    for (k, amplitude) in torque.iter().enumerate().skip(1) {
        let frequency = 0.5 * k as f64 * speed_rad_s;
        let mut torques = vec![Complex::default(); BEFORE];
        let throws = spec.firing_angle_rad.iter();
        torques.extend(throws.map(|fires| *amplitude * phase(k, *fires).conjugate()));
        torques.push(Complex::default());
        let angles = chain.respond(frequency, &torques)?;
        let flywheel = angles.last().copied().unwrap_or_default();
        vibration.twist_rad.push(angles[1] - flywheel);
        vibration.damper_w += chain.shaft_losses_w(frequency, &angles)[0];
        vibration
            .sections_n_m
            .push(chain.shaft_torques_n_m(frequency, &angles));
    }
    Ok(vibration)
}

/// What turns harmonic k from the time of the engine to the angle of a throw that fires later by an angle \[rad\].
fn phase(k: usize, fires_rad: f64) -> Complex {
    Complex::unit(0.5 * k as f64 * fires_rad.rem_euclid(4.0 * PI))
}

impl Vibration {
    /// Harmonics of the torque \[N·m\] before and after a throw, over the throw's own angle.
    pub fn about_throw(&self, spec: &Spec, throw: usize) -> [Vec<Complex>; 2] {
        let fires = spec.firing_angle_rad[throw];
        let section = |index: usize| {
            let rows = self.sections_n_m.iter().enumerate();
            rows.map(|(k, row)| {
                let torque = row.get(index).copied().unwrap_or_default();
                torque * phase(k, fires)
            })
            .collect()
        };
        [section(throw + BEFORE - 1), section(throw + BEFORE)]
    }

    /// Harmonics of the torque in the nose \[N·m\].
    pub fn nose(&self) -> Vec<Complex> {
        let rows = self.sections_n_m.iter();
        rows.map(|row| row.get(1).copied().unwrap_or_default())
            .collect()
    }
}
