use super::face::Face;
use super::flow_factors::FlowFactors;
use super::reynolds::{Edges, FilmIntegrals, FilmLoad, Roughness};
use crate::contact::{GreenwoodTable, GreenwoodTripp};
use crate::range::{OutOfRange, within};

/// Asperity load of a whole face over its least film thickness: the Greenwood-Tripp pressure integrated
/// over the shape, tabulated once.
///
/// Cubic Hermite on steps of 0.05 σ with the exact slope: relative error below 1e-5 for h from 0 to 6 σ.
#[derive(Debug, Clone)]
pub struct RingContact {
    /// The pair of surfaces.
    pub pair: GreenwoodTripp,
    /// Width-integral of `F_5/2` and its slope for one step.
    rows: Vec<[f64; 2]>,
}

const FROM: f64 = -1.0;
const TO: f64 = 8.0;
const STEP: f64 = 0.05;

impl RingContact {
    /// Tabulates a face against a bore.
    ///
    /// # Errors
    /// A property of `pair` out of range.
    pub fn new(
        face: &Face,
        pair: GreenwoodTripp,
        table: &GreenwoodTable,
    ) -> Result<Self, OutOfRange> {
        pair.check()?;
        let steps = ((TO - FROM) / STEP).round() as usize;
        let row = |k: usize| {
            let least = FROM + k as f64 * STEP;
            let over = |setback: f64| least + setback / pair.sigma_m;
            [
                face.integral(|setback| table.five_halves(over(setback))),
                -2.5 * STEP * face.integral(|setback| table.three_halves(over(setback))),
            ]
        };
        Ok(Self {
            rows: (0..=steps).map(row).collect(),
            pair,
        })
    }

    /// Asperity load for each metre of circumference \[N/m\] at a least film thickness \[m\].
    pub fn load_n_m(&self, film_m: f64) -> f64 {
        let separation = film_m / self.pair.sigma_m;
        if separation.is_nan() || separation >= TO {
            return 0.0;
        }
        let position = (separation.max(FROM) - FROM) / STEP;
        let k = (position as usize).min(self.rows.len() - 2);
        let t = position - k as f64;
        let ([from, s0], [to, s1]) = (self.rows[k], self.rows[k + 1]);
        let rise = to - from;
        let integral =
            from + t * (s0 + t * (3.0 * rise - 2.0 * s0 - s1 + t * (s0 + s1 - 2.0 * rise)));
        self.pair.pressure_scale_pa() * integral
    }
}

/// A ring face on a bore: everything that does not change over the cycle.
///
/// The face's axis runs from its lower edge to its upper one, the way the bore moves past it on the
/// downstroke.
#[derive(Debug, Clone)]
pub struct RingFilm<'a> {
    down: Face,
    up: Face,
    contact: RingContact,
    factors: &'a FlowFactors,
    moving_share: f64,
    /// Friction coefficient of asperity contact \[1\].
    pub boundary_friction: f64,
}

impl<'a> RingFilm<'a> {
    /// `bore_rq_m` is the bore's part of the composite roughness in `contact`, for the shear-flow factor.
    ///
    /// # Errors
    /// A roughness above the composite one, a friction coefficient outside 0 to 1.
    pub fn new(
        face: &Face,
        contact: RingContact,
        bore_rq_m: f64,
        boundary_friction: f64,
        factors: &'a FlowFactors,
    ) -> Result<Self, OutOfRange> {
        let composite = contact.pair.sigma_m;
        let expected = "at most the composite roughness";
        within(
            "bore_rq_m",
            bore_rq_m,
            (0.0, composite * (1.0 + 1e-9)),
            expected,
        )?;
        within("boundary_friction", boundary_friction, (0.0, 1.0), "0 to 1")?;
        let share = (bore_rq_m / composite).powi(2);
        Ok(Self {
            down: face.clone(),
            up: face.mirrored(),
            contact,
            factors,
            moving_share: 2.0 * share - 1.0,
            boundary_friction,
        })
    }

    /// The face width \[m\].
    pub fn width_m(&self) -> f64 {
        self.down.width_m()
    }

    /// Asperity load \[N/m\] at a film thickness \[m\].
    pub fn contact_n_m(&self, film_m: f64) -> f64 {
        self.contact.load_n_m(film_m)
    }

    fn rough(&self) -> Roughness<'_> {
        Roughness {
            factors: self.factors,
            sigma_m: self.contact.pair.sigma_m,
            moving_share: self.moving_share,
        }
    }

    fn face(&self, downwards: bool) -> &Face {
        if downwards { &self.down } else { &self.up }
    }

    /// Solves the film at one instant.
    pub fn film(
        &self,
        scratch: &mut FilmIntegrals,
        downwards: bool,
        film_m: f64,
        edges: &Edges,
    ) -> FilmLoad {
        scratch.shape(self.face(downwards), film_m, &self.rough());
        scratch.solve(edges)
    }

    /// Viscous drag \[N/m\] of a film just solved with the same arguments.
    pub fn drag_n_m(
        &self,
        scratch: &FilmIntegrals,
        downwards: bool,
        film_m: f64,
        edges: &Edges,
        solved: &FilmLoad,
    ) -> f64 {
        scratch.drag_n_m(self.face(downwards), film_m, &self.rough(), edges, solved)
    }
}
