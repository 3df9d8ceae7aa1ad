use crate::contact::{GreenwoodTripp, greenwood_integral};

/// Film and asperities that carry a line contact together.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SharedLoad {
    /// Mean gap that the film fills \[m\].
    pub film_m: f64,
    /// Share of the load on the asperities, 0 to 1.
    pub asperity_share: f64,
}

/// Sharing of the load of an elastohydrodynamic line contact between film and asperities after Johnson, Greenwood
/// and Poon (Wear 19, 1972, 91): the film is that of the load it carries, `h (1 − share)^−0.13`, the asperities press as
/// those of two rough planes.
///
/// The film fills the mean gap between the surfaces, `σ F_1(−λ)` for mean planes λσ apart, so that planes can come nearer
/// than 0 where there is no film and the asperities carry everything. Asperities are elastic at any depth: below
/// λ = −1 the model only serves to let them carry the whole load.
#[derive(Debug, Clone)]
pub struct LoadSharing {
    sigma_m: f64,
    scale_pa: f64,
    /// ln of mean gap over σ and of `F_5/2`, at even λ.
    rows: Vec<[f64; 2]>,
}

const FROM: f64 = -6.0;
const TO: f64 = 6.0;
const STEPS: usize = 240;
/// Exponent of the load in the film of a line.
const LOAD_EXPONENT: f64 = -0.13;

impl LoadSharing {
    /// For two rough surfaces, which [`GreenwoodTripp::check`] accepts.
    pub fn new(rough: &GreenwoodTripp) -> Self {
        let row = |k: usize| {
            let apart = FROM + (TO - FROM) * k as f64 / STEPS as f64;
            let gap = greenwood_integral(1.0, -apart);
            [libm::log(gap), libm::log(greenwood_integral(2.5, apart))]
        };
        Self {
            sigma_m: rough.sigma_m,
            scale_pa: rough.pressure_scale_pa(),
            rows: (0..=STEPS).map(row).collect(),
        }
    }

    /// Shares a load: `smooth_film_m` is the film of the whole load on smooth bodies \[m\], `mean_pressure_pa` the
    /// load over the width of the Hertz contact \[Pa\], above 0.
    pub fn at(&self, smooth_film_m: f64, mean_pressure_pa: f64) -> SharedLoad {
        if smooth_film_m >= (TO - 0.5) * self.sigma_m {
            return SharedLoad {
                film_m: smooth_film_m,
                asperity_share: 0.0,
            };
        }
        let (film, reach) = (
            libm::log(smooth_film_m / self.sigma_m),
            libm::log(self.scale_pa / mean_pressure_pa),
        );
        // Rises with the distance of the planes: gap over the film of the load that is left to it.
        let excess = |place: f64| {
            let [gap, pressure] = self.row(place);
            let share = libm::exp(pressure + reach);
            if share >= 1.0 {
                -f64::INFINITY
            } else {
                gap - film - LOAD_EXPONENT * libm::log1p(-share)
            }
        };
        let place = root(excess);
        let [gap, pressure] = self.row(place);
        SharedLoad {
            film_m: self.sigma_m * libm::exp(gap),
            asperity_share: libm::exp(pressure + reach).min(1.0),
        }
    }

    fn row(&self, place: f64) -> [f64; 2] {
        let k = (place as usize).min(STEPS - 1);
        let t = place - k as f64;
        let (low, high) = (self.rows[k], self.rows[k + 1]);
        [
            low[0] + t * (high[0] - low[0]),
            low[1] + t * (high[1] - low[1]),
        ]
    }
}

/// Root of a rising function of the place in the rows, which may be −∞ low down: halving until both ends are near and finite, then false
/// position with halved weights (the Illinois rule).
fn root(rising: impl Fn(f64) -> f64) -> f64 {
    let (mut low, mut high) = (0.0, STEPS as f64);
    let (mut below, mut above) = (f64::NEG_INFINITY, f64::INFINITY);
    for _ in 0..40 {
        let near = high - low < 2.0 && below.is_finite() && above.is_finite();
        let share = if near { -below / (above - below) } else { 0.5 };
        let place = low + share * (high - low);
        let found = rising(place);
        if found.abs() < 1e-8 || high - low < 1e-9 {
            return place;
        }
        if found < 0.0 {
            (low, below) = (place, found);
            above *= if near { 0.5 } else { 1.0 };
        } else {
            (high, above) = (place, found);
            below *= if near { 0.5 } else { 1.0 };
        }
    }
    high
}
