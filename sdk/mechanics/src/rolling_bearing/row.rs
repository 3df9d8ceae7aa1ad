//! One row of rolling elements between rigid rings that do not tilt: what it carries at a displacement.

use std::f64::consts::{PI, TAU};

use super::life::Kind;
use crate::contact::{effective_modulus_pa, elliptic_contact};
use crate::range::{OutOfRange, within};

/// What rolls.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Elements {
    /// Balls in grooves, whose contact angle turns with load.
    Ball {
        /// Distance of the centres of curvature of both grooves without load \[m\].
        centres_m: f64,
    },
    /// Rollers, at their angle.
    Roller,
}

/// One row of rolling elements. The inner ring moves against the outer by a radial and an axial displacement.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Balls or rollers.
    pub elements: Elements,
    /// How many.
    pub count: usize,
    /// Diameter of a ball, mean diameter of a roller \[m\].
    pub element_m: f64,
    /// Pitch diameter \[m\].
    pub pitch_m: f64,
    /// Contact angle without load \[rad\]; 0 for a deep groove, which takes axial load either way.
    pub angle_rad: f64,
    /// Length of a roller that bears \[m\]; that of a ball's contact comes from its load.
    pub length_m: f64,
    /// Radial internal clearance of a deep groove \[m\].
    pub clearance_m: f64,
    /// Load of an element over the power of its deflection: N/m^1.5 or N/m^(10/9).
    pub stiffness: f64,
    /// Element loads at which inner and outer ring last 1e6 revolutions, over the dynamic rating.
    capacity: [f64; 2],
    /// Half of the long axis of a ball's inner contact at 1 N \[m\].
    long_at_1n_m: f64,
    /// Cosine and sine of the contact angle without load.
    angle: (f64, f64),
    /// Cosines of the elements' places from the load line to the far side, each with how many elements are there.
    places: Vec<(f64, f64)>,
}

/// Groove radius over ball diameter, inner and outer: the largest on which ISO 281 bases its ratings (from memory).
pub const GROOVES: [f64; 2] = [0.52, 0.53];

/// Modulus of elasticity \[Pa\] and Poisson's ratio of bearing steel, as ISO/TS 16281 has them (from memory).
pub const STEEL: (f64, f64) = (2.07e11, 0.30);

/// Load over deflection to the power 10/9 of a steel roller between two raceways, for each length^(8/9): 35948 N and mm (ISO/TS 16281, from memory).
const ROLLER_N_MM: f64 = 35_948.0;

impl Row {
    /// Balls: 5 to 40 of them, 2 to 60 mm, on a pitch diameter that holds them, at 0 to 45 degrees.
    ///
    /// # Errors
    /// The value out of range.
    pub fn balls(
        count: usize,
        element_m: f64,
        pitch_m: f64,
        angle_rad: f64,
    ) -> Result<Self, OutOfRange> {
        let mut row = Self::bare(count, element_m, pitch_m, angle_rad)?;
        let gamma = row.gamma();
        let [inner, outer] = GROOVES.map(|groove| groove * element_m);
        row.elements = Elements::Ball {
            centres_m: inner + outer - element_m,
        };
        let modulus_pa = effective_modulus_pa(STEEL, STEEL);
        let curved = 2.0 / element_m;
        let contact = |across: f64, groove_m: f64| {
            let radii = (1.0 / across, 1.0 / (curved - 1.0 / groove_m));
            elliptic_contact(1.0, radii, modulus_pa)
        };
        let inside = contact(curved / (1.0 - gamma), inner);
        let outside = contact(curved / (1.0 + gamma), outer);
        row.stiffness = libm::pow(inside.approach_m + outside.approach_m, -1.5);
        row.long_at_1n_m = inside.long_m;
        // ISO/TS 16281 for one row.
        let osculation = inner / outer * (2.0 * outer - element_m) / (2.0 * inner - element_m);
        let ratio =
            1.044 * libm::pow((1.0 - gamma) / (1.0 + gamma), 1.72) * libm::pow(osculation, 0.41);
        let each = row.count as f64 * libm::cos(angle_rad);
        let power = libm::pow(ratio, 10.0 / 3.0);
        row.capacity = [
            libm::pow(1.0 + power, 0.3) / (0.407 * each),
            libm::pow(1.0 + 1.0 / power, 0.3) / (0.389 * each),
        ];
        Ok(row)
    }

    /// The same with radial internal clearance \[m\], 0 to 0.2 mm: for a deep groove.
    #[must_use]
    pub fn with_clearance(mut self, clearance_m: f64) -> Self {
        self.clearance_m = clearance_m.clamp(0.0, 2.0e-4);
        self
    }

    /// Cylindrical (0 degrees) or tapered rollers: 5 to 40 of them, 2 to 60 mm, bearing on 2 to 100 mm of their length.
    ///
    /// # Errors
    /// The value out of range.
    pub fn rollers(
        count: usize,
        element_m: f64,
        pitch_m: f64,
        angle_rad: f64,
        length_m: f64,
    ) -> Result<Self, OutOfRange> {
        let mut row = Self::bare(count, element_m, pitch_m, angle_rad)?;
        row.length_m = within("length_m", length_m, (2.0e-3, 0.1), "2e-3 to 0.1 m")?;
        let per_mm = libm::pow(1.0e3 * length_m, 8.0 / 9.0);
        row.stiffness = ROLLER_N_MM * per_mm * libm::pow(1.0e3, 10.0 / 9.0);
        let gamma = row.gamma();
        let ratio = 1.038 * libm::pow((1.0 - gamma) / (1.0 + gamma), 143.0 / 108.0);
        let each = row.count as f64 * libm::cos(angle_rad);
        let power = libm::pow(ratio, 4.5);
        row.capacity = [
            libm::pow(1.0 + power, 2.0 / 9.0) / (0.378 * each),
            libm::pow(1.0 + 1.0 / power, 2.0 / 9.0) / (0.364 * each),
        ];
        Ok(row)
    }

    fn bare(
        count: usize,
        element_m: f64,
        pitch_m: f64,
        angle_rad: f64,
    ) -> Result<Self, OutOfRange> {
        within("count", count as f64, (5.0, 40.0), "5 to 40 elements")?;
        let element_m = within("element_m", element_m, (2.0e-3, 0.06), "2e-3 to 0.06 m")?;
        within(
            "pitch_m",
            pitch_m,
            (element_m * count as f64 / PI, 1.0),
            "a pitch circle that holds the elements side by side",
        )?;
        within("angle_rad", angle_rad, (0.0, 0.786), "0 to 0.786 rad")?;
        let angle = |k: usize| libm::cos(TAU * k as f64 / count as f64);
        let places = (0..=count / 2).map(|k| {
            let single = k == 0 || 2 * k == count;
            (angle(k), if single { 1.0 } else { 2.0 })
        });
        Ok(Self {
            elements: Elements::Roller,
            count,
            element_m,
            pitch_m,
            angle_rad,
            length_m: 0.0,
            clearance_m: 0.0,
            stiffness: 0.0,
            capacity: [0.0; 2],
            long_at_1n_m: 0.0,
            angle: (libm::cos(angle_rad), libm::sin(angle_rad)),
            places: places.collect(),
        })
    }

    /// Kind of bearing.
    pub fn kind(&self) -> Kind {
        match self.elements {
            Elements::Ball { .. } => Kind::RadialBall,
            Elements::Roller => Kind::RadialRoller,
        }
    }

    /// `Dw cos α / Dpw`.
    pub fn gamma(&self) -> f64 {
        self.element_m * libm::cos(self.angle_rad) / self.pitch_m
    }

    /// Load of an element \[N\] at the place of cosine `along`, and its radial and axial share.
    fn element(&self, along: f64, radial_m: f64, axial_m: f64) -> (f64, f64, f64) {
        let (cos, sin) = self.angle;
        match self.elements {
            Elements::Ball { centres_m } => {
                let (mut across, mut aside) = (
                    centres_m * cos - 0.5 * self.clearance_m,
                    centres_m * sin + axial_m,
                );
                if self.angle_rad > 0.0 {
                    aside = aside.max(0.0); // no shoulder on that side
                }
                across += radial_m * along;
                let apart = (across * across + aside * aside).sqrt();
                let squeezed = apart - centres_m;
                if squeezed <= 0.0 || across <= 0.0 {
                    return (0.0, 1.0, 0.0);
                }
                let load = self.stiffness * squeezed * squeezed.sqrt();
                (load, across / apart, aside / apart)
            }
            Elements::Roller => {
                let squeezed = radial_m * along * cos + axial_m * sin - 0.5 * self.clearance_m;
                if squeezed <= 0.0 {
                    return (0.0, cos, sin);
                }
                // To the power 10/9.
                let load = self.stiffness * squeezed * libm::cbrt(libm::cbrt(squeezed));
                (load, cos, sin)
            }
        }
    }

    /// Radial and axial force \[N\] at a displacement \[m\].
    pub fn force_n(&self, radial_m: f64, axial_m: f64) -> (f64, f64) {
        let mut force = (0.0, 0.0);
        for (along, elements) in &self.places {
            let (load, across, aside) = self.element(*along, radial_m, axial_m);
            force.0 += elements * load * across * along;
            force.1 += elements * load * aside;
        }
        force
    }

    /// What the elements carry at a displacement \[m\].
    pub fn loading(&self, radial_m: f64, axial_m: f64) -> Loading {
        let ball = self.kind().balls();
        // Lundberg and Palmgren: the moving ring by the mean of power p of Q, the standing one by that of p e.
        let (moving, standing) = if ball { (3.0, 10.0 / 3.0) } else { (4.0, 4.5) };
        let (mut sums, mut largest_n, mut sum_n) = ([0.0, 0.0], 0.0_f64, 0.0);
        for (along, elements) in &self.places {
            let (load, _, _) = self.element(*along, radial_m, axial_m);
            if load > 0.0 {
                sums[0] += elements * libm::pow(load, moving);
                sums[1] += elements * libm::pow(load, standing);
                largest_n = largest_n.max(load);
                sum_n += elements * load;
            }
        }
        let count = self.count as f64;
        let inner_n = libm::pow(sums[0] / count, 1.0 / moving);
        let outer_n = libm::pow(sums[1] / count, 1.0 / standing);
        let ring = |load: f64, capacity: f64| libm::pow(load / capacity, standing);
        let both = ring(inner_n, self.capacity[0]) + ring(outer_n, self.capacity[1]);
        let length_m = match self.elements {
            Elements::Ball { .. } => 2.0 * self.long_at_1n_m * libm::cbrt(largest_n),
            Elements::Roller => self.length_m,
        };
        Loading {
            equivalent_n: libm::pow(both, 1.0 / standing),
            largest_n,
            mean_n: sum_n / count,
            length_m,
        }
    }
}

/// What a row carries.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Loading {
    /// Equivalent dynamic load of the distribution of element loads, the inner ring turning \[N\]: the constant load that in the rating's own
    /// life equation gives the life of both rings.
    pub equivalent_n: f64,
    /// Largest load of an element \[N\].
    pub largest_n: f64,
    /// Mean load of all elements \[N\].
    pub mean_n: f64,
    /// Length of the inner contact across the raceway \[m\]: the long axis under the largest load, or the roller's length.
    pub length_m: f64,
}
