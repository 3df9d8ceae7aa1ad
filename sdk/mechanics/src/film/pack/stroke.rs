use super::super::march::FilmCycle;

/// Asperity contact of one ring over one cycle, laid along the bore where it happened.
///
/// Height is the distance of a point of the bore below the middle of the ring at top dead centre. A point is rubbed while the
/// face passes over it; its dose for each pass is the asperity load of the face there (pressure integrated over the face).
#[derive(Debug, Clone, PartialEq)]
pub struct StrokeContact {
    pieces: Vec<Piece>,
    width_m: f64,
}

/// The path of the middle of the ring over one step.
#[derive(Debug, Clone, Copy, PartialEq)]
#[allow(clippy::struct_field_names, reason = "fields end with their units")]
struct Piece {
    from_m: f64,
    to_m: f64,
    /// Asperity load, of both rails for the oil ring \[N/m\].
    load_n_m: f64,
}

impl StrokeContact {
    /// From a film, the height of the ring at the end of each step \[m\], the width and the number of equal faces that pass. Between the
    /// ends of a step the load is their mean.
    pub(super) fn new(film: &FilmCycle, heights_m: &[f64], (width_m, faces): (f64, f64)) -> Self {
        let ends = || {
            film.films
                .iter()
                .map(|film| film.contact_n_m)
                .zip(heights_m)
        };
        let before = ends().next_back().into_iter().chain(ends());
        let pieces = before.zip(ends());
        let piece = |((load_before, before_m), (load, at_m)): ((f64, &f64), (f64, &f64))| Piece {
            from_m: before_m.min(*at_m),
            to_m: before_m.max(*at_m),
            load_n_m: 0.5 * faces * (load_before + load),
        };
        Self {
            pieces: pieces.map(piece).collect(),
            width_m,
        }
    }

    /// Asperity load times sliding distance for each metre of circumference \[N\]: what is worn from either side over its wear coefficient
    /// and circumference, and contact friction work over friction coefficient and circumference.
    pub fn total_n(&self) -> f64 {
        let work = |piece: &Piece| piece.load_n_m * (piece.to_m - piece.from_m);
        self.pieces.iter().map(work).sum()
    }

    /// Dose of a point of the bore for one cycle \[Pa·m\]: worn depth over wear coefficient. The load is taken as even across the face,
    /// so that a point is rubbed while the middle of the face is within half its width. Its integral over height is
    /// [`Self::total_n`].
    pub fn dose_pa_m(&self, height_m: f64) -> f64 {
        let half_m = 0.5 * self.width_m;
        self.between_n(height_m - half_m, height_m + half_m) / self.width_m
    }

    /// Asperity load times sliding distance while the middle of the ring is between two heights \[N\].
    fn between_n(&self, from_m: f64, to_m: f64) -> f64 {
        let work = |piece: &Piece| {
            let shared_m = piece.to_m.min(to_m) - piece.from_m.max(from_m);
            piece.load_n_m * shared_m.max(0.0)
        };
        self.pieces.iter().map(work).sum()
    }
}
