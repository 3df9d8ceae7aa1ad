/// A guide as built, and the geometry of its worn ends: from worn volumes to clearance and wobble.
///
/// A stiff stem tilted in its clearance wears a wedge at the end that it presses: deepest at the mouth, running out inside where the
/// stem's line crosses the bore. Across, the wedge is the crescent by which the stem has sunk into the wider bore. With radial clearance
/// C, depth at the mouth `w = ωC`, both mouths of one tilt worn by `ω` and `ω'`, the stem's tilt is `C (2 + ω + ω')/L`, the wedge is
/// `ωL/(2 + ω + ω')` long, and its volume
///
/// `V = d C L B(ω)/(2 + ω + ω')`, `B(ω) = ½ y s + ½ arcosh y − y arccos(1/y)`, `y = 1 + ω`, `s = √(y² − 1)`:
///
/// the crescent's area `2 r C (s − arccos(1/y))` integrated from the tip of the wedge to the mouth. Exact for a stiff round stem and small
/// tilt; depth then grows with the volume's power 2/5 at first and more evenly later: edges bed in fast.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BellMouth {
    /// Stem diameter \[m\].
    pub stem_diameter_m: f64,
    /// Clearance on diameter \[m\], over 0; with what the stem has lost.
    pub clearance_m: f64,
    /// Length of the guide \[m\].
    pub length_m: f64,
}

/// Worn volumes \[m³\] at each end, on the side that positive forces press and on the other.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
#[allow(missing_docs, reason = "named")]
pub struct WornVolumes {
    pub top_plus_m3: f64,
    pub top_minus_m3: f64,
    pub bottom_plus_m3: f64,
    pub bottom_minus_m3: f64,
}

/// Depths of the wedges at the mouths \[m\].
#[derive(Debug, Clone, Copy, PartialEq, Default)]
#[allow(missing_docs, reason = "named")]
pub struct WornDepths {
    pub top_plus_m: f64,
    pub top_minus_m: f64,
    pub bottom_plus_m: f64,
    pub bottom_minus_m: f64,
}

impl WornDepths {
    /// Growth of the clearance at the top, across the plane of the forces \[m\].
    pub fn top_m(&self) -> f64 {
        self.top_plus_m + self.top_minus_m
    }

    /// Growth of the clearance at the bottom \[m\].
    pub fn bottom_m(&self) -> f64 {
        self.bottom_plus_m + self.bottom_minus_m
    }
}

impl BellMouth {
    /// Depths from volumes. A tilt presses the top on one side and the bottom on the other: the two tilts are apart.
    pub fn depths(&self, volumes: &WornVolumes) -> WornDepths {
        let radial_m = 0.5 * self.clearance_m;
        let unit_m3 = self.stem_diameter_m * radial_m * self.length_m;
        let tilt = |top_m3: f64, bottom_m3: f64| {
            wedges([top_m3 / unit_m3, bottom_m3 / unit_m3]).map(|depth| depth * radial_m)
        };
        let [top_plus_m, bottom_minus_m] = tilt(volumes.top_plus_m3, volumes.bottom_minus_m3);
        let [top_minus_m, bottom_plus_m] = tilt(volumes.top_minus_m3, volumes.bottom_plus_m3);
        WornDepths {
            top_plus_m,
            top_minus_m,
            bottom_plus_m,
            bottom_minus_m,
        }
    }

    /// Swing of the stem \[m\], side to side, at a distance below the guide \[m\] (0 or more): what a dial gauge there reads while the
    /// valve is rocked. `c + w + a (2c + Σw)/L` with the bottom's growth w and the growth of both ends Σw.
    pub fn wobble_m(&self, depths: &WornDepths, below_m: f64) -> f64 {
        let swing = 2.0 * self.clearance_m + depths.top_m() + depths.bottom_m();
        self.clearance_m + depths.bottom_m() + below_m / self.length_m * swing
    }
}

/// Depths over radial clearance of the two wedges of one tilt, from their volumes over `d C L`, each 0 or more: Newton's method on
/// `B(ω_i) = v_i (2 + ω_1 + ω_2)`, residual below 1e-8. B is convex, so from above both roots the steps come down without overshoot; a guess near them saves most of them.
fn wedges(volumes: [f64; 2]) -> [f64; 2] {
    newton(volumes, near(volumes))
        .or_else(|| newton(volumes, above(volumes)))
        .unwrap_or_else(|| above(volumes))
}

fn newton(volumes: [f64; 2], start: [f64; 2]) -> Option<[f64; 2]> {
    let mut depths = start;
    for _ in 0..STEPS {
        let width = 2.0 + depths[0] + depths[1];
        let off = [0, 1].map(|i| crescents(depths[i]) - volumes[i] * width);
        let slope = [0, 1].map(|i| crescent(depths[i]) - volumes[i]);
        // [slope0, −v0; −v1, slope1] step = off. A side without wear stays as it is.
        let slope = [0, 1].map(|i| if volumes[i] > 0.0 { slope[i] } else { 1.0 });
        let determinant = slope[0] * slope[1] - volumes[0] * volumes[1];
        if determinant <= 0.0 || slope[0] <= 0.0 {
            return None;
        }
        let step = [
            (off[0] * slope[1] + volumes[0] * off[1]) / determinant,
            (off[1] * slope[0] + volumes[1] * off[0]) / determinant,
        ];
        let next = [0, 1].map(|i| (depths[i] - step[i]).max(0.0));
        let moved = (next[0] - depths[0]).abs() + (next[1] - depths[1]).abs();
        depths = next;
        if moved <= 1e-12 * (depths[0] + depths[1]) {
            return Some(depths);
        }
    }
    // As near as rounding lets them come.
    Some(depths)
}

const STEPS: usize = 40;

/// Depths near the roots: B inverted roughly, for a tilt that follows from the depths before.
fn near(volumes: [f64; 2]) -> [f64; 2] {
    let mut depths = [0.0; 2];
    for _ in 0..3 {
        let width = 2.0 + depths[0] + depths[1];
        depths = volumes.map(|volume| {
            let shallow = leading(volume * width);
            if shallow < 1.5 {
                shallow * (1.0 + 0.15 * shallow)
            } else {
                1.4 + (2.0 * volume * width).sqrt()
            }
        });
    }
    depths
}

/// Depths at or above the roots.
fn above(volumes: [f64; 2]) -> [f64; 2] {
    let total = volumes[0] + volumes[1];
    volumes.map(|volume| {
        if volume <= 0.0 {
            return 0.0;
        }
        3.0 * leading(2.0 * volume) + 4.0 * total + 4.0 * (volume * total).sqrt()
    })
}

/// Depth of a shallow wedge: `B = (4√2/15) ω^2.5`.
fn leading(integral: f64) -> f64 {
    libm::pow(integral * 15.0 / (4.0 * std::f64::consts::SQRT_2), 0.4)
}

/// Area of the crescent of depth `ω` over radial clearance, over `2 r C`.
fn crescent(depth: f64) -> f64 {
    if depth < SHALLOW {
        let series = 2.0 / 3.0 - depth * (0.3 - depth * 0.718_75 * 2.0 / 7.0);
        return std::f64::consts::SQRT_2 * depth * depth.sqrt() * series;
    }
    let y = 1.0 + depth;
    (y * y - 1.0).sqrt() - libm::acos(1.0 / y)
}

/// Its integral over depth from 0: `B(ω)`.
fn crescents(depth: f64) -> f64 {
    if depth < SHALLOW {
        let series = 4.0 / 15.0 - depth * (0.3 * 2.0 / 7.0 - depth * 0.718_75 * 4.0 / 63.0);
        return std::f64::consts::SQRT_2 * depth * depth * depth.sqrt() * series;
    }
    let y = 1.0 + depth;
    0.5 * y * (y * y - 1.0).sqrt() + 0.5 * libm::acosh(y) - y * libm::acos(1.0 / y)
}

/// Below it the closed forms cancel and a series of three terms stands in.
const SHALLOW: f64 = 3.0e-3;

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const GUIDE: BellMouth = BellMouth {
        stem_diameter_m: 6e-3,
        clearance_m: 50e-6,
        length_m: 40e-3,
    };

    /// Volume of a wedge by brute force: where a tilted cylinder lies outside a bore, summed over length and angle.
    fn volume_by_sums(depth_m: f64, other_m: f64) -> f64 {
        let radial = 0.5 * GUIDE.clearance_m;
        let tilt = (GUIDE.clearance_m + depth_m + other_m) / GUIDE.length_m;
        let (rows, columns) = (2000, 2000);
        let (dz, da) = (
            GUIDE.length_m / f64::from(rows),
            std::f64::consts::PI / f64::from(columns),
        );
        let mut sum = 0.0;
        for row in 0..rows {
            let sunk = radial + depth_m - tilt * (f64::from(row) + 0.5) * dz;
            if sunk <= radial {
                break;
            }
            for column in 0..columns {
                let angle = -0.5 * std::f64::consts::PI + (f64::from(column) + 0.5) * da;
                let over = sunk * libm::cos(angle) - radial;
                sum += over.max(0.0) * 0.5 * GUIDE.stem_diameter_m * da * dz;
            }
        }
        sum
    }

    #[test]
    fn depths_come_back_from_volumes_summed_over_the_overlap() {
        for (top, bottom) in [(5e-6, 12e-6), (40e-6, 25e-6), (90e-6, 1e-6)] {
            let volumes = WornVolumes {
                top_plus_m3: volume_by_sums(top, bottom),
                bottom_minus_m3: volume_by_sums(bottom, top),
                ..WornVolumes::default()
            };
            let found = GUIDE.depths(&volumes);
            assert!((found.top_plus_m / top - 1.0).abs() < 2e-3, "{found:?}");
            assert!(
                (found.bottom_minus_m / bottom - 1.0).abs() < 2e-3,
                "{found:?}"
            );
            assert!(found.top_minus_m <= 0.0 && found.bottom_plus_m <= 0.0);
        }
    }

    #[test]
    fn series_and_closed_form_meet() {
        let (below, above) = (SHALLOW * (1.0 - 1e-9), SHALLOW * (1.0 + 1e-9));
        assert!((crescent(below) / crescent(above) - 1.0).abs() < 1e-7);
        assert!((crescents(below) / crescents(above) - 1.0).abs() < 1e-7);
    }

    /// Two lines through the corners of the clearance, by hand: c 50 µm, 40 mm long, dial 40 mm below: 50 + 100 µm.
    #[test]
    fn a_new_guide_lets_the_stem_rock_by_its_clearance() {
        let none = WornDepths::default();
        assert!((GUIDE.wobble_m(&none, 40e-3) - 150e-6).abs() < 1e-12);
        let worn = WornDepths {
            top_plus_m: 10e-6,
            bottom_plus_m: 5e-6,
            bottom_minus_m: 15e-6,
            ..none
        };
        assert!((GUIDE.wobble_m(&worn, 40e-3) - 200e-6).abs() < 1e-12);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(64))]

        /// More volume is never less depth at either end, and the residual is nil from a trace to a ruined guide.
        #[test]
        fn more_volume_is_more_depth(a in -9.0..1.0_f64, b in -9.0..1.0_f64, more in 1.0..2.0_f64) {
            let volumes = [libm::pow(10.0, a), libm::pow(10.0, b)];
            let depths = wedges(volumes);
            let width = 2.0 + depths[0] + depths[1];
            for i in 0..2 {
                let off = crescents(depths[i]) / (volumes[i] * width) - 1.0;
                prop_assert!(off.abs() < 1e-8, "{volumes:?} {depths:?} {off}");
            }
            let grown = wedges([volumes[0] * more, volumes[1]]);
            prop_assert!(grown[0] >= depths[0] * (1.0 - 1e-8) && grown[1] >= depths[1] * (1.0 - 1e-8));
        }
    }
}
