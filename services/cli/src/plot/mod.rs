//! Plots for paper and screen, as SVG or PNG: black on white, told apart by dashes and not by colour.

mod draw;
mod evidence;

pub use draw::draw;
pub use evidence::{of_groups, of_lives, of_replacements};

/// What is drawn.
pub struct Plot {
    /// What it shows.
    title: String,
    /// What it was made of.
    caption: String,
    age: String,
    value: String,
    /// Largest age and value.
    reach: (f64, f64),
    /// Whether its lines fall, which leaves room for names below them.
    falls: bool,
    curves: Vec<Curve>,
}

/// A line, and how it is drawn.
struct Curve {
    name: String,
    points: Vec<(f64, f64)>,
    stroke: Stroke,
}

/// How a line is drawn.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Stroke {
    /// An estimate.
    Solid,
    /// The other estimate.
    Dashed,
    /// The end of an interval: thin.
    Fine,
    /// The end of the other's interval: thin, dotted.
    Dotted,
}
