/// Heat paths from stem to head, for each area of stem \[W/(m²·K)\]: across the clearance, through the guide's wall, across the press fit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeatPath {
    /// Across the clearance.
    pub gap_w_m2_k: f64,
    /// From the bore to the boss.
    pub guide_w_m2_k: f64,
}

/// The path of a guide: clearance on diameter \[m\], conductivity of what fills it and of the guide \[W/(m·K)\], bore and outside \[m\], and
/// conductance of the press fit \[W/(m²·K)\] for each area of the guide's outside.
///
/// The stem lies to one side: a mean gap of half the clearance overstates the resistance. A floor of 1 µm keeps it finite.
pub fn guide_conductance_w_m2_k(
    clearance_m: f64,
    gap_w_m_k: f64,
    guide_w_m_k: f64,
    (bore_m, outer_m): (f64, f64),
    fit_w_m2_k: f64,
) -> HeatPath {
    let wall = 0.5 * bore_m * libm::log(outer_m / bore_m) / guide_w_m_k;
    let fit = bore_m / (outer_m * fit_w_m2_k);
    HeatPath {
        gap_w_m2_k: gap_w_m_k / (0.5 * clearance_m).max(1e-6),
        guide_w_m2_k: 1.0 / (wall + fit),
    }
}

impl HeatPath {
    /// From stem to boss.
    pub fn conductance_w_m2_k(&self) -> f64 {
        1.0 / (1.0 / self.gap_w_m2_k + 1.0 / self.guide_w_m2_k)
    }

    /// Temperature of the bore over the boss, over that of the stem over the boss.
    pub fn bore_share(&self) -> f64 {
        self.gap_w_m2_k / (self.gap_w_m2_k + self.guide_w_m2_k)
    }
}

/// A stem as a fin: hot at the head's neck, washed by port gas up to the guide, cooled by the guide from there on, nothing lost beyond the
/// guide's top. Steady, one-dimensional (any heat-transfer text): each part is `cosh` and `sinh` of its own length, and temperature and
/// heat flow meet at the guide's lower end. The valve's motion and the pulses of the gas are averaged in the coefficients.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct StemHeat {
    /// Stem diameter \[m\].
    pub diameter_m: f64,
    /// Conductivity of the stem \[W/(m·K)\].
    pub conductivity_w_m_k: f64,
    /// Stem between neck and guide \[m\], over 0.
    pub port_length_m: f64,
    /// Coefficient of heat transfer from the port's gas \[W/(m²·K)\], over 0.
    pub gas_w_m2_k: f64,
    /// Length of the guide \[m\], over 0.
    pub guide_length_m: f64,
    /// Conductance from stem to boss \[W/(m²·K)\], over 0.
    pub guide_w_m2_k: f64,
}

impl StemHeat {
    /// Temperatures of the stem \[K\] at the guide's bottom and top, from those of neck, gas and boss \[K\].
    pub fn ends_k(&self, neck_k: f64, gas_k: f64, boss_k: f64) -> (f64, f64) {
        let rate =
            |w_m2_k: f64| (4.0 * w_m2_k / (self.conductivity_w_m_k * self.diameter_m)).sqrt();
        let (port, guide) = (rate(self.gas_w_m2_k), rate(self.guide_w_m2_k));
        let reach = port * self.port_length_m;
        let along = guide * self.guide_length_m;
        // Heat from above the guide's end: neck and gas; into it: the guide.
        let from_neck = port / libm::sinh(reach.min(FAR));
        let from_port = port / libm::tanh(reach);
        let into_guide = guide * libm::tanh(along);
        let bottom_k = (from_neck * (neck_k - gas_k) + from_port * gas_k + into_guide * boss_k)
            / (from_port + into_guide);
        let top_k = boss_k + (bottom_k - boss_k) / libm::cosh(along.min(FAR));
        (bottom_k, top_k)
    }
}

/// Beyond this many decay lengths nothing of one end reaches the other.
const FAR: f64 = 300.0;

#[cfg(test)]
mod tests {
    use super::*;

    const STEM: StemHeat = StemHeat {
        diameter_m: 6e-3,
        conductivity_w_m_k: 22.0,
        port_length_m: 30e-3,
        gas_w_m2_k: 300.0,
        guide_length_m: 40e-3,
        guide_w_m2_k: 2000.0,
    };

    /// Finite differences of the same rod, 1400 cells, solved as a tridiagonal system.
    fn by_differences(stem: &StemHeat, neck_k: f64, gas_k: f64, boss_k: f64) -> (f64, f64) {
        let cells = 1400;
        let step = (stem.port_length_m + stem.guide_length_m) / f64::from(cells);
        let (mut upper, mut right) = (vec![0.0; 1400], vec![0.0; 1400]);
        for cell in 0..1400_usize {
            let in_port = (cell as f64 + 0.5) * step < stem.port_length_m;
            let (w, sink) = if in_port {
                (stem.gas_w_m2_k, gas_k)
            } else {
                (stem.guide_w_m2_k, boss_k)
            };
            let loss = 4.0 * w / (stem.conductivity_w_m_k * stem.diameter_m) * step * step;
            let below = if cell == 0 { 2.0 } else { 1.0 };
            let above = if cell == 1399 { 0.0 } else { 1.0 };
            let mut diagonal = below + above + loss;
            let mut rhs = loss * sink;
            if cell == 0 {
                rhs += below * neck_k;
            } else {
                diagonal -= upper[cell - 1];
                rhs += right[cell - 1];
            }
            upper[cell] = above / diagonal;
            right[cell] = rhs / diagonal;
        }
        let mut temp = vec![0.0; 1400];
        temp[1399] = right[1399];
        for cell in (0..1399).rev() {
            temp[cell] = right[cell] + upper[cell] * temp[cell + 1];
        }
        let bottom = (stem.port_length_m / step).round() as usize;
        (0.5 * (temp[bottom - 1] + temp[bottom]), temp[1399])
    }

    #[test]
    fn the_closed_form_meets_finite_differences() {
        for (neck, gas, boss) in [(1030.0, 950.0, 400.0), (700.0, 320.0, 380.0)] {
            let (bottom, top) = STEM.ends_k(neck, gas, boss);
            let (bottom_d, top_d) = by_differences(&STEM, neck, gas, boss);
            assert!((bottom - bottom_d).abs() < 0.5, "{bottom} {bottom_d}");
            assert!((top - top_d).abs() < 0.1, "{top} {top_d}");
        }
    }

    /// A very long rod of 5 mm, 100 °C at one end, air at 25 °C, 100 W/(m²·K): 8.3 W in copper (398 W/(m·K)), 5.6 W in aluminium alloy
    /// (180), 1.6 W in stainless steel (14). A textbook's worked example, from memory. The heat flow is read from two points of the rod.
    #[test]
    fn a_long_rod_loses_what_the_textbook_says() {
        for (conductivity, watts) in [(398.0, 8.3), (180.0, 5.6), (14.0, 1.6)] {
            let near = 1e-4;
            let stem = StemHeat {
                diameter_m: 5e-3,
                conductivity_w_m_k: conductivity,
                port_length_m: near,
                gas_w_m2_k: 1e-9,
                guide_length_m: 5.0,
                guide_w_m2_k: 100.0,
            };
            let (at, far) = stem.ends_k(373.15, 298.15, 298.15);
            let area = 0.25 * std::f64::consts::PI * 25e-6;
            let found = conductivity * area * (373.15 - at) / near;
            assert!((found - watts).abs() < 0.06, "{conductivity}: {found}");
            assert!((far - 298.15).abs() < 1e-6);
        }
    }

    /// Resistances in a row, by hand: gap 0.1/25 µm = 4000; wall 3 mm ln 2/60 = 3.466e-5, fit 1/(2 · 1e4) = 5e-5.
    #[test]
    fn resistances_add_up() {
        let path = guide_conductance_w_m2_k(50e-6, 0.1, 60.0, (6e-3, 12e-3), 1e4);
        assert!((path.gap_w_m2_k - 4000.0).abs() < 1e-9);
        assert!((1.0 / path.guide_w_m2_k - 8.466e-5).abs() < 1e-8);
        let whole = 1.0 / (2.5e-4 + 1.0 / path.guide_w_m2_k);
        assert!((path.conductance_w_m2_k() - whole).abs() < 1e-9);
        assert!((path.bore_share() - whole / path.guide_w_m2_k).abs() < 1e-12);
    }
}
