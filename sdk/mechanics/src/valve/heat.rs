//! Heat balance of a head.

/// Conductances \[W/K\] and temperatures \[K\] about a head of two nodes: its centre with the neck, and its rim. Steady: a head answers in
/// seconds, an engine cycle takes hundredths of one.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeadHeat {
    /// From the cylinder's gas to centre and rim.
    pub face_w_k: [f64; 2],
    /// Temperature of that gas, weighted by its heat transfer.
    pub face_k: f64,
    /// From the gas in the port to centre and rim.
    pub port_w_k: [f64; 2],
    /// Temperature of that gas.
    pub port_k: f64,
    /// Between centre and rim.
    pub radial_w_k: f64,
    /// From the rim through the seat, by the share of time in which it is closed.
    pub seat_w_k: f64,
    /// From the centre along the stem to the guide.
    pub stem_w_k: f64,
    /// Temperature of what cools both.
    pub coolant_k: f64,
    /// Heat drawn from the centre besides \[W\]: fuel that evaporates on it.
    pub drawn_w: f64,
}

/// Temperatures of a head.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeadTemperature {
    /// Centre and neck \[K\].
    pub centre_k: f64,
    /// Rim \[K\].
    pub rim_k: f64,
    /// Share of the heat to the coolant that goes through the seat; the rest goes along the stem. 0 when none flows.
    pub seat_share: f64,
}

impl HeadHeat {
    /// Temperatures at which heat in and heat out balance at both nodes.
    pub fn balance(&self) -> HeadTemperature {
        let sink = [self.stem_w_k, self.seat_w_k];
        let node = |i: usize| {
            let total = self.face_w_k[i] + self.port_w_k[i] + sink[i] + self.radial_w_k;
            let source = self.face_w_k[i] * self.face_k
                + self.port_w_k[i] * self.port_k
                + sink[i] * self.coolant_k;
            (total, source)
        };
        let ((centre, gained), (rim, into_rim)) = (node(0), node(1));
        let into_centre = gained - self.drawn_w;
        let link = self.radial_w_k;
        let determinant = centre * rim - link * link;
        let centre_k = (into_centre * rim + into_rim * link) / determinant;
        let rim_k = (into_rim * centre + into_centre * link) / determinant;
        let seat_w = self.seat_w_k * (rim_k - self.coolant_k);
        let all_w = seat_w + self.stem_w_k * (centre_k - self.coolant_k);
        HeadTemperature {
            centre_k,
            rim_k,
            seat_share: if all_w > 0.0 { seat_w / all_w } else { 0.0 },
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    const HEAD: HeadHeat = HeadHeat {
        face_w_k: [0.2, 0.2],
        face_k: 1400.0,
        port_w_k: [0.1, 0.1],
        port_k: 1150.0,
        radial_w_k: 0.8,
        seat_w_k: 0.4,
        stem_w_k: 0.04,
        coolant_k: 380.0,
        drawn_w: 0.0,
    };

    /// First law: what comes in goes out, at each node.
    #[test]
    fn heat_balances() {
        let at = HEAD.balance();
        let across_w = HEAD.radial_w_k * (at.centre_k - at.rim_k);
        let centre_w = 0.2 * (1400.0 - at.centre_k) + 0.1 * (1150.0 - at.centre_k)
            - 0.04 * (at.centre_k - 380.0)
            - across_w;
        let rim_w = 0.2 * (1400.0 - at.rim_k) + 0.1 * (1150.0 - at.rim_k)
            - 0.4 * (at.rim_k - 380.0)
            + across_w;
        assert!(
            centre_w.abs() < 1e-9 && rim_w.abs() < 1e-9,
            "{centre_w} {rim_w}"
        );
        assert!(at.centre_k > at.rim_k && at.seat_share > 0.8);
    }

    /// What is drawn balances too: at a perfect conductor it lowers the temperature by heat over the sum of conductances.
    #[test]
    fn what_is_drawn_cools() {
        let one = HeadHeat {
            radial_w_k: 1e9,
            ..HEAD
        };
        let cooled = HeadHeat {
            drawn_w: 52.0,
            ..one
        }
        .balance();
        assert!((one.balance().centre_k - cooled.centre_k - 50.0).abs() < 1e-3);
    }

    /// A perfect conductor is one node: the mean weighted by conductances.
    #[test]
    fn a_perfect_conductor_is_the_weighted_mean() {
        let at = HeadHeat {
            radial_w_k: 1e9,
            ..HEAD
        }
        .balance();
        let mean = (0.4 * 1400.0 + 0.2 * 1150.0 + 0.44 * 380.0) / 1.04;
        assert!((at.centre_k - mean).abs() < 1e-3 && (at.rim_k - mean).abs() < 1e-3);
    }

    proptest! {
        #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

        /// Between its surroundings; hotter with hotter gas, cooler with a better seat.
        #[test]
        fn it_lies_between_and_follows(face in 500.0..2000.0_f64, port in 300.0..1400.0_f64, seat in 0.01..2.0_f64) {
            let head = HeadHeat { face_k: face, port_k: port, seat_w_k: seat, ..HEAD };
            let at = head.balance();
            let (least, most) = (port.min(380.0), face.max(port));
            for temp in [at.centre_k, at.rim_k] {
                prop_assert!(temp > least && temp < most);
            }
            let hotter = HeadHeat { port_k: port + 50.0, ..head }.balance();
            prop_assert!(hotter.centre_k > at.centre_k && hotter.rim_k > at.rim_k);
            if at.rim_k > 380.0 {
                let cooler = HeadHeat { seat_w_k: 1.1 * seat, ..head }.balance();
                prop_assert!(cooler.centre_k < at.centre_k && cooler.rim_k < at.rim_k);
            }
        }
    }
}
