use std::f64::consts::PI;

use super::spec::{FLANK_AREA_M2, FilmTemperature, PEAK_VARIANCE, PackSpec, UNSEATED_AREA_M2};
use super::stroke::StrokeContact;
use super::unsolved::Unsolved;
use crate::contact::{GreenwoodTable, GreenwoodTripp, effective_modulus_pa};
use crate::engine::{
    ChenFlynn, CycleModel, CycleSetup, Cylinder, Land, LoadControl, LoadCycle, LoadTarget,
    Operating, RingPackGas, RingSeal, SliderCrank, annulus_m3,
};
use crate::film::{CrankStep, Face, FilmCycle, FlowFactors, RingContact, RingFilm, march};

/// How finely an operating point is solved.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Grid {
    /// Points of the gas trace over 720°.
    pub gas_points: usize,
    /// Crank step of the film near the dead centres \[°\]; it triples between them.
    pub step_deg: f64,
    /// Cells across a face.
    pub cells: usize,
}

impl Grid {
    /// The grid of the operating map.
    pub const MAP: Self = Self {
        gas_points: 360,
        step_deg: 1.5,
        cells: 16,
    };
    /// For checks of convergence.
    pub const FINE: Self = Self {
        gas_points: 1440,
        step_deg: 0.25,
        cells: 48,
    };
}

/// State of the running surfaces.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Running {
    /// What is left of the fresh hone, 1 to 0.
    pub unseated: f64,
    /// What is left of the crown of each face above that which tilt keeps, 1 to 0.
    pub crown: f64,
}

impl Running {
    /// As built.
    pub const FRESH: Self = Self {
        unseated: 1.0,
        crown: 1.0,
    };
    /// Seated, not yet worn.
    pub const SEATED: Self = Self {
        unseated: 0.0,
        crown: 1.0,
    };
}

/// What one ring does in one cycle.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct RingCycle {
    /// Asperity pressure times sliding distance, mean over the face \[Pa·m\].
    pub dose_pa_m: f64,
    /// Friction work of the ring \[J\]; of both rails for the oil ring.
    pub friction_j: f64,
    /// The part of it on asperities \[J\].
    pub boundary_friction_j: f64,
    /// Least film thickness between mean planes \[m\].
    pub least_film_m: f64,
}

/// The gas side of an operating point.
#[derive(Debug, Clone, PartialEq)]
pub struct GasSide {
    /// The cylinder cycle.
    pub load: LoadCycle,
    /// Pressure over each ring from the top down, then the crankcase \[Pa\].
    pub lands_pa: Vec<Vec<f64>>,
    /// Blow-by \[kg/s\].
    pub blow_by_kg_s: f64,
}

/// One cylinder, ready for operating points.
pub struct Pack<'a> {
    /// The spec.
    pub spec: &'a PackSpec,
    grid: Grid,
    cycle: CycleModel,
    crank: SliderCrank,
    greenwood: GreenwoodTable,
    factors: FlowFactors,
    /// Crank angles of the film steps \[rad\], from mid-stroke of the exhaust on over 4π.
    angles_rad: Vec<f64>,
}

const CRANKCASE_PA: f64 = 1.0e5;
const CRANKCASE_K: f64 = 390.0;
/// Poisson's ratio of rings and bore.
const POISSON: f64 = 0.3;

impl<'a> Pack<'a> {
    /// Assembles a cylinder.
    ///
    /// # Errors
    /// A geometry that cannot turn.
    pub fn new(spec: &'a PackSpec, grid: Grid) -> Result<Self, Unsolved> {
        let crank = SliderCrank::centred(0.5 * spec.stroke_m, spec.rod_length_m)?;
        let setup = CycleSetup {
            cylinder: Cylinder {
                crank,
                bore_m: spec.bore_m,
                compression_ratio: spec.compression_ratio,
            },
            ..CycleSetup::default()
        };
        Ok(Self {
            spec,
            cycle: CycleModel::new(setup, grid.gas_points)?,
            crank,
            greenwood: GreenwoodTable::new(),
            factors: FlowFactors::new(),
            angles_rad: film_angles(grid.step_deg),
            grid,
        })
    }

    /// Cylinder and land pressures at a speed and net indicated mean effective pressure, with a growth of both
    /// compression-ring gaps \[m\] and what is left of the fresh hone.
    ///
    /// # Errors
    /// A load out of reach, or a gas balance that does not settle.
    pub fn gas(
        &self,
        speed_rad_s: f64,
        imep_pa: f64,
        gap_growth_m: f64,
        unseated: f64,
    ) -> Result<GasSide, Unsolved> {
        let spec = self.spec;
        let share = (imep_pa / spec.full_load_imep_pa).clamp(0.0, 1.5);
        let point = Operating {
            speed_rad_s,
            exhaust_pressure_pa: 1.05e5 + (spec.exhaust_pressure_pa - 1.05e5) * share,
            ..Operating::default()
        };
        let control = LoadControl::Charge {
            least_pa: 2.5e4,
            most_pa: 1.5e6,
        };
        let target = LoadTarget::Imep(imep_pa);
        let load = self
            .cycle
            .run_to_load(&point, target, control, &ChenFlynn::default())?;
        let pack = self.ring_gas(gap_growth_m, unseated);
        let lands = pack.land_pressures(&load.cycle.pressure_pa, load.cycle.period_s)?;
        Ok(GasSide {
            load,
            lands_pa: lands.pressure_pa,
            blow_by_kg_s: lands.blow_by_kg_s,
        })
    }

    fn ring_gas(&self, gap_growth_m: f64, unseated: f64) -> RingPackGas {
        let spec = self.spec;
        let seal = |gap_m: f64, flank_area_m2: f64| RingSeal {
            gap_m,
            land_clearance_m: spec.land_clearance_m,
            discharge_coefficient: 0.86,
            flank_area_m2,
        };
        let flank_m2 = FLANK_AREA_M2 + UNSEATED_AREA_M2 * unseated;
        let land = |height_m: f64, groove_m: f64, temp_k: f64| Land {
            volume_m3: annulus_m3(spec.bore_m, spec.land_clearance_m, height_m)
                + annulus_m3(spec.bore_m, spec.groove_back_clearance_m, groove_m),
            temp_k,
        };
        let hot = |cold_m: f64| (spec.hot_gap_m(cold_m) + gap_growth_m).max(1e-5);
        RingPackGas {
            rings: vec![
                seal(hot(spec.top_gap_m), flank_m2),
                seal(hot(spec.second_gap_m), flank_m2),
                // The oil ring does not seal against gas.
                seal(1.0e-3, 2.0e-6),
            ],
            lands: vec![
                land(spec.second_land_height_m, spec.rings[1].width_m, 480.0),
                land(spec.third_land_height_m, 4.0 * spec.rings[2].width_m, 450.0),
            ],
            top_land_temp_k: 520.0,
            crankcase_pressure_pa: CRANKCASE_PA,
            crankcase_temp_k: CRANKCASE_K,
            ..RingPackGas::default()
        }
    }

    /// The film of one ring (0 top, 1 second, 2 a rail) over a cycle.
    ///
    /// # Errors
    /// A film without a solution.
    pub fn film(
        &self,
        ring: usize,
        gas: &GasSide,
        speed_rad_s: f64,
        temperature: &FilmTemperature,
        running: Running,
    ) -> Result<(FilmCycle, Vec<CrankStep>), Unsolved> {
        let steps = self.steps(ring, gas, speed_rad_s, temperature);
        let face = self.face(ring, running.crown)?;
        let film = self.contact(ring, &face, running.unseated)?;
        Ok((march(&film, &steps)?, steps))
    }

    /// [`Pack::film`], summed up.
    ///
    /// # Errors
    /// A film without a solution.
    pub fn ring_cycle(
        &self,
        ring: usize,
        gas: &GasSide,
        speed_rad_s: f64,
        temperature: &FilmTemperature,
        running: Running,
    ) -> Result<RingCycle, Unsolved> {
        let (cycle, _) = self.ring_on_bore(ring, gas, speed_rad_s, temperature, running)?;
        Ok(cycle)
    }

    /// [`Pack::film`], summed up and laid along the bore: two views of one solution.
    ///
    /// # Errors
    /// A film without a solution.
    pub fn ring_on_bore(
        &self,
        ring: usize,
        gas: &GasSide,
        speed_rad_s: f64,
        temperature: &FilmTemperature,
        running: Running,
    ) -> Result<(RingCycle, StrokeContact), Unsolved> {
        let (film, _) = self.film(ring, gas, speed_rad_s, temperature, running)?;
        let faces = if ring == 2 { 2.0 } else { 1.0 };
        let length_m = PI * self.spec.bore_m * faces;
        let width_m = self.spec.rings[ring].width_m;
        let angles = self.angles_rad.iter();
        let heights_m: Vec<f64> = angles.map(|rad| self.crank.displacement_m(*rad)).collect();
        let stroke = StrokeContact::new(&film, &heights_m, (width_m, faces));
        let total_n = stroke.total_n() / faces;
        let mut viscous_j = 0.0;
        let mut before = film.films.last().zip(heights_m.last());
        for now in film.films.iter().zip(&heights_m) {
            if let Some((film, from_m)) = before {
                let mean_n_m = 0.5 * (film.viscous_friction_n_m + now.0.viscous_friction_n_m);
                viscous_j += length_m * mean_n_m * (now.1 - from_m).abs();
            }
            before = Some(now);
        }
        let thicknesses = film.films.iter().map(|film| film.thickness_m);
        let boundary_friction_j = length_m * self.spec.rings[ring].boundary_friction * total_n;
        let cycle = RingCycle {
            dose_pa_m: total_n / width_m,
            friction_j: boundary_friction_j + viscous_j,
            boundary_friction_j,
            least_film_m: thicknesses.fold(f64::INFINITY, f64::min),
        };
        Ok((cycle, stroke))
    }

    fn face(&self, ring: usize, crown: f64) -> Result<Face, Unsolved> {
        let geometry = &self.spec.rings[ring];
        let kept_m = self.spec.kept_crown_m(ring);
        let crown_m = kept_m + crown * (self.spec.crown_m(ring) - kept_m);
        let radius_m = geometry.width_m * geometry.width_m / (8.0 * crown_m);
        let offset_m = geometry.crown_offset_m;
        let face = Face::parabolic(geometry.width_m, radius_m, offset_m, self.grid.cells)?;
        Ok(face)
    }

    fn contact(&self, ring: usize, face: &Face, unseated: f64) -> Result<RingFilm<'_>, Unsolved> {
        let spec = self.spec;
        let (bore, face_of) = (&spec.bore, &spec.rings[ring]);
        let peaks_m = bore.rpk_m * unseated;
        let bore_variance = bore.rq_m * bore.rq_m + PEAK_VARIANCE * peaks_m * peaks_m;
        let pair = GreenwoodTripp {
            sigma_m: (bore_variance + face_of.rq_m * face_of.rq_m).sqrt(),
            radius_m: bore.asperity_radius_m,
            density_per_m2: bore.asperity_density_per_m2,
            modulus_pa: effective_modulus_pa(
                (spec.ring_modulus_pa, POISSON),
                (spec.bore_modulus_pa, POISSON),
            ),
        };
        let contact = RingContact::new(face, pair, &self.greenwood)?;
        let friction = face_of.boundary_friction;
        let bore_rq_m = bore_variance.sqrt();
        Ok(RingFilm::new(
            face,
            contact,
            bore_rq_m,
            friction,
            &self.factors,
        )?)
    }

    fn steps(
        &self,
        ring: usize,
        gas: &GasSide,
        speed_rad_s: f64,
        temperature: &FilmTemperature,
    ) -> Vec<CrankStep> {
        let spec = self.spec;
        let geometry = &spec.rings[ring];
        let elastic_pa = 2.0 * geometry.tension_n / (spec.bore_m * geometry.width_m);
        let (above, below) = (&gas.lands_pa[ring], &gas.lands_pa[ring + 1]);
        let mut before_rad = 1.5 * PI;
        let mut steps = Vec::with_capacity(self.angles_rad.len());
        for &angle_rad in &self.angles_rad {
            let (above_pa, below_pa) = (traced(above, angle_rad), traced(below, angle_rad));
            // A compression ring is pressed on the bore by the gas of the side it does not seal; the
            // groove of the oil ring is drained and vented.
            let behind_pa = if ring == 2 {
                0.5 * (above_pa + below_pa)
            } else {
                above_pa.max(below_pa)
            };
            let depth = self.crank.displacement_m(angle_rad) / spec.stroke_m;
            steps.push(CrankStep {
                duration_s: (angle_rad - before_rad) / speed_rad_s,
                speed_m_s: self.crank.velocity_m_s(angle_rad, speed_rad_s),
                viscosity_pa_s: temperature.viscosity_pa_s(spec, depth),
                above_pa,
                below_pa,
                load_n_m: (elastic_pa + behind_pa) * geometry.width_m,
            });
            before_rad = angle_rad;
        }
        steps
    }
}

/// Crank angles \[rad\] over 4π from mid-stroke of the exhaust on: fine steps within 40° of the dead centres,
/// threefold between.
fn film_angles(step_deg: f64) -> Vec<f64> {
    const ZONES_DEG: [f64; 10] = [
        270.0, 320.0, 400.0, 500.0, 580.0, 680.0, 760.0, 860.0, 940.0, 990.0,
    ];
    let mut angles = Vec::new();
    for (zone, ends) in ZONES_DEG.windows(2).enumerate() {
        let (from, width) = (ends[0], ends[1] - ends[0]);
        let wanted = if zone % 2 == 0 {
            3.0 * step_deg
        } else {
            step_deg
        };
        // An even number, so that a step ends at the dead centre and no travel is lost there.
        let steps = 2.0 * (0.5 * width / wanted).ceil();
        let count = steps as usize;
        angles.extend((1..=count).map(|k| (from + width * k as f64 / steps).to_radians()));
    }
    angles
}

/// Value of a periodic trace (points at −2π + k 4π/N) at an angle, linear between points.
fn traced(trace: &[f64], angle_rad: f64) -> f64 {
    let points = trace.len();
    let position = (angle_rad + 2.0 * PI) / (4.0 * PI) * points as f64;
    let whole = position.floor();
    let low = whole.rem_euclid(points as f64) as usize % points;
    let high = (low + 1) % points;
    trace[low] + (position - whole) * (trace[high] - trace[low])
}
