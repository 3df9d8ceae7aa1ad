//! Duty to what it does: each operating point and over-rev as a block, looked up in the map.

use ringland_engine::Block;
use ringland_mechanics::contact::greenwood_integral;
use ringland_mechanics::fatigue::{BelowKnee, SnLine};
use ringland_mechanics::oil::dilution_factor;
use ringland_mechanics::range::OutOfRange;
use ringland_plugin::{Finding, error};

use crate::constants::{KNEE_CYCLES, LEAST_FILM_SHARE, RQ_OVER_RA};
use crate::operating_map::{DAMPERS, Looked, OperatingMap, site_count};
use crate::spec::Spec;
use crate::strength::Strength;
use crate::stress::{CycleStress, NotchFactors};

/// Oil temperature at which the least film of the bearing is stated \[K\].
const NOMINAL_OIL_K: f64 = 378.15;

/// What duty adds, linear in time: damage of each site with the damper new, half aged and aged, journal wear, time.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Stretch {
    /// Damage of each site \[1\], by damper state.
    pub damage: Vec<[f64; DAMPERS]>,
    /// Wear of the worst place of a pin \[m\].
    pub journal_wear_m: f64,
    /// Running time \[s\].
    pub running_s: f64,
}

impl Stretch {
    fn add(&mut self, more: &Self) {
        if self.damage.is_empty() {
            self.damage = vec![[0.0; DAMPERS]; more.damage.len()];
        }
        for (sum, site) in self.damage.iter_mut().zip(&more.damage) {
            for (sum, damper) in sum.iter_mut().zip(site) {
                *sum += damper;
            }
        }
        self.journal_wear_m += more.journal_wear_m;
        self.running_s += more.running_s;
    }
}

/// The sum of what blocks add.
pub fn total<'a>(added: impl Iterator<Item = &'a Added>) -> Stretch {
    let mut sum = Stretch::default();
    for block in added {
        sum.add(&block.stretch);
    }
    sum
}

/// What one block adds.
#[derive(Debug, Clone, PartialEq)]
pub struct Added {
    /// Its stretch.
    pub stretch: Stretch,
    /// Whether the map had to be extrapolated.
    pub outside: bool,
}

fn unknown(found: &OutOfRange) -> Vec<Finding> {
    let remedy = "check the dimension against what has been ground off";
    vec![error(found.field, found.value, found.expected, remedy)]
}

/// Viscosity times speed over load at rated speed and full load with oil at its nominal temperature.
fn film_reference(spec: &Spec, map: &OperatingMap<'_>) -> f64 {
    let engine = &spec.engine;
    let full = map.look_up(engine.rated_speed_rad_s, engine.full_load_imep_pa);
    let viscosity = spec.oil.viscosity_pa_s(NOMINAL_OIL_K);
    viscosity * engine.rated_speed_rad_s / full.mean_pin_load_n().max(1.0)
}

/// The crank as it is now: its strength after so much grinding, and how grinding raises stress.
pub struct Crank<'a> {
    spec: &'a Spec,
    map: OperatingMap<'a>,
    /// Pin fillets, journal fillets, shoulder of the nose.
    strengths: [Strength; 3],
    /// Bending and torsion of pin and journal fillets over those as made.
    raised: [[f64; 2]; 2],
    line: SnLine,
    /// Viscosity times speed over load at which the bearing's least film is stated \[Pa·s·rad/(s·N)\].
    film_reference: f64,
    /// Asperity pressure of touching mean planes, in the unit of Greenwood's integral.
    touching: f64,
}

impl<'a> Crank<'a> {
    /// A crank ground by a depth on the radius \[m\].
    ///
    /// # Errors
    /// A dimension that the factors do not know.
    pub fn new(spec: &'a Spec, map: OperatingMap<'a>, ground_m: f64) -> Result<Self, Vec<Finding>> {
        let factors = Self::check_ground(spec, ground_m)?;
        let made = Self::check_ground(spec, 0.0)?;
        let thinner = |diameter_m: f64| (diameter_m / (diameter_m - 2.0 * ground_m)).powi(3);
        let raised = |now: [f64; 2], was: [f64; 2], diameter_m: f64| {
            [now[0] / was[0], now[1] / was[1] * thinner(diameter_m)]
        };
        let [pin, journal] = factors.concentration;
        let slope = spec.sn_slope;
        let line = SnLine::new(spec.strength_pa, KNEE_CYCLES, slope, BelowKnee::Elementary);
        Ok(Self {
            spec,
            strengths: [
                Strength::new(spec, spec.pin_fillet_m, pin, true, ground_m),
                Strength::new(spec, spec.journal_fillet_m, journal, true, ground_m),
                Strength::new(spec, spec.nose_fillet_m, factors.nose, false, 0.0),
            ],
            raised: [
                raised(factors.pin, made.pin, spec.pin_diameter_m),
                raised(factors.journal, made.journal, spec.journal_diameter_m),
            ],
            line: line.map_err(|e| unknown(&e))?,
            film_reference: film_reference(spec, &map),
            touching: greenwood_integral(2.5, 0.0),
            map,
        })
    }

    /// Notch factors after grinding.
    ///
    /// # Errors
    /// A dimension that the factors do not know.
    pub fn check_ground(spec: &Spec, ground_m: f64) -> Result<NotchFactors, Vec<Finding>> {
        NotchFactors::new(spec, ground_m).map_err(|e| unknown(&e))
    }

    /// The spec.
    pub fn spec(&self) -> &Spec {
        self.spec
    }

    /// The map.
    pub fn map(&self) -> &OperatingMap<'a> {
        &self.map
    }

    /// Strength of the pin fillets.
    pub fn pin_strength(&self) -> &Strength {
        &self.strengths[0]
    }

    /// Kind of a site: 0 pin fillet, 1 journal fillet, 2 nose.
    fn kind(&self, site: usize) -> usize {
        (site / self.spec.throws()).min(2)
    }

    /// Stress cycles of a site after grinding: bending and torsion rise by their own ratios, in the shares they have of the square of the
    /// amplitude. The mean is bending's.
    pub fn ground(&self, site: usize, stress: CycleStress) -> CycleStress {
        let Some([bending, torsion]) = self.raised.get(self.kind(site)) else {
            return stress;
        };
        let share = stress.torsion_share;
        let square = (1.0 - share) * bending * bending + share * torsion * torsion;
        CycleStress {
            amplitude_pa: stress.amplitude_pa * square.sqrt(),
            mean_pa: stress.mean_pa * bending,
            torsion_share: share * torsion * torsion / square,
        }
    }

    /// Damage of a site by one engine cycle, Miner's sum on the S-N line.
    pub fn damage_of_cycle(&self, site: usize, stress: CycleStress) -> f64 {
        let stress = self.ground(site, stress);
        let strength = &self.strengths[self.kind(site)];
        let utilisation = strength.utilisation(stress.amplitude_pa, stress.mean_pa);
        self.line.damage(utilisation * self.line.strength_pa(), 1.0)
    }

    /// What a block adds.
    pub fn added(&self, block: &Block) -> Added {
        let sites = site_count(self.spec.throws());
        if block.speed_rad_s <= 0.0 || block.time_s <= 0.0 {
            let stretch = Stretch {
                damage: vec![[0.0; DAMPERS]; sites],
                ..Stretch::default()
            };
            return Added {
                stretch,
                outside: false,
            };
        }
        let looked = self.map.look_up(block.speed_rad_s, self.map.imep_pa(block));
        let cycles = block.cycles();
        let damage = |site: usize| {
            [0, 1, 2]
                .map(|damper| cycles * self.damage_of_cycle(site, looked.state(damper).site(site)))
        };
        Added {
            stretch: Stretch {
                damage: (0..sites).map(damage).collect(),
                journal_wear_m: self.journal_wear_m(block, &looked),
                running_s: block.time_s,
            },
            outside: looked.outside,
        }
    }

    /// Wear of a pin over a block \[m\]: Archard, with the asperity share (J. A. Greenwood and J. H. Tripp) of the bearing's least film during its part of
    /// the cycle. The film is
    /// that of the plain bearing at rated speed, full load and warm oil, moved by the square root of viscosity times speed over load, as a short bearing's is at high
    /// eccentricity (F. W. Ocvirk).
    fn journal_wear_m(&self, block: &Block, looked: &Looked) -> f64 {
        let spec = self.spec;
        let load_n = looked.mean_pin_load_n();
        let viscosity = dilution_factor(block.fuel_fraction) * spec.oil.viscosity_pa_s(block.oil_k);
        let duty = viscosity * block.speed_rad_s / load_n.max(1.0);
        let film_m = spec.bearing_film_m * (duty / self.film_reference).sqrt();
        let roughness_m = (RQ_OVER_RA * spec.journal.ra_m).hypot(spec.bearing_rq_m);
        let film_ratio = (film_m / roughness_m).min(12.0);
        let share = greenwood_integral(2.5, film_ratio) / self.touching;
        let pin_m = spec.pin_diameter_m;
        let pressure_pa = load_n / (spec.bearing_length_m * pin_m);
        let sliding_m = 0.5 * pin_m * block.speed_rad_s * block.time_s;
        let dose_pa_m = share * pressure_pa * sliding_m * LEAST_FILM_SHARE;
        spec.journal.wear_coefficient_m2_n * dose_pa_m * block.contamination
    }

    /// Where on the map full load at rated speed lies.
    pub fn full_load(&self) -> Looked {
        let engine = &self.spec.engine;
        self.map
            .look_up(engine.rated_speed_rad_s, engine.full_load_imep_pa)
    }

    /// Largest amplitude of the hub's twist against the flywheel at full load up to 1.05 of rated speed \[rad\], by damper state.
    pub fn twist_peaks_rad(&self) -> [f64; DAMPERS] {
        let engine = &self.spec.engine;
        let mut peaks = [0.0_f64; DAMPERS];
        for step in 6..=42 {
            let speed = engine.rated_speed_rad_s * f64::from(step) / 40.0;
            let looked = self.map.look_up(speed, engine.full_load_imep_pa);
            for (damper, peak) in peaks.iter_mut().enumerate() {
                *peak = peak.max(looked.state(damper).twist_rad());
            }
        }
        peaks
    }
}
