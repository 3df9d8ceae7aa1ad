/// A bolted joint under an axial load: the joint diagram.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Joint {
    /// Compliance of the bolt \[m/N\], above 0.
    pub bolt_compliance_m_n: f64,
    /// Compliance of the clamped members \[m/N\], above 0.
    pub member_compliance_m_n: f64,
    /// Where the load enters the members \[1\]: 1 at the bearing faces, 0 at the interface (n of VDI 2230).
    pub load_introduction: f64,
}

impl Joint {
    /// Compliance of bolt and members in series \[m/N\]: what a change of length costs in preload.
    pub fn compliance_m_n(&self) -> f64 {
        self.bolt_compliance_m_n + self.member_compliance_m_n
    }

    /// Load factor Φ \[1\]: the share of an external load by which the bolt's load rises while the joint is closed.
    pub fn load_factor(&self) -> f64 {
        self.load_introduction * self.member_compliance_m_n / self.compliance_m_n()
    }

    /// Load of the bolt \[N\] at a preload \[N\], 0 or more, under an external load \[N\], negative when it presses the members together. Once the joint
    /// has opened the bolt bears the external load alone.
    pub fn bolt_load_n(&self, preload_n: f64, external_n: f64) -> f64 {
        (preload_n + self.load_factor() * external_n).max(external_n)
    }

    /// Load left between the members \[N\], 0 once the joint has opened.
    pub fn clamp_load_n(&self, preload_n: f64, external_n: f64) -> f64 {
        self.bolt_load_n(preload_n, external_n) - external_n
    }

    /// External load at which the joint opens \[N\].
    pub fn opening_load_n(&self, preload_n: f64) -> f64 {
        preload_n / (1.0 - self.load_factor())
    }

    /// Preload below which an external load opens the joint \[N\].
    pub fn preload_to_stay_closed_n(&self, external_n: f64) -> f64 {
        (1.0 - self.load_factor()) * external_n
    }

    /// Preload lost \[N\] when the surfaces embed by a length \[m\] (VDI 2230), or the bolt stays longer by it.
    pub fn embedding_loss_n(&self, embedding_m: f64) -> f64 {
        embedding_m / self.compliance_m_n()
    }

    /// Change of preload \[N\] when members and bolt, over a grip \[m\], warm by a temperature rise \[K\]: positive when the members expand more
    /// \[1/K\].
    pub fn thermal_change_n(
        &self,
        grip_m: f64,
        member_expansion_per_k: f64,
        bolt_expansion_per_k: f64,
        rise_k: f64,
    ) -> f64 {
        grip_m * (member_expansion_per_k - bolt_expansion_per_k) * rise_k / self.compliance_m_n()
    }
}

/// Factor by which a load whose line passes `offset_m` inside the bolt's, on members that open about an edge `edge_m` outside
/// it, loads the bolt: 1 + offset/edge, the lever of a stiff flange once the joint is open. Both in m, `offset_m` 0 or more, `edge_m` above 0.
pub fn prying_factor(offset_m: f64, edge_m: f64) -> f64 {
    1.0 + offset_m / edge_m
}

/// Yielding of a bolt: elastic, then a straight line of hardening.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Yielding {
    /// Load at which the new bolt yields \[N\].
    pub yield_load_n: f64,
    /// Permanent stretch for each newton beyond \[m/N\].
    pub hardening_compliance_m_n: f64,
}

impl Yielding {
    /// Permanent stretch \[m\] that the highest external load \[N\] adds to a bolt of a preload \[N\] that has been stretched by `kept_m` \[m\]
    /// before. The preload falls by [`Joint::embedding_loss_n`] of what is added. The same load again adds nothing more.
    pub fn added_stretch_m(
        &self,
        joint: &Joint,
        preload_n: f64,
        external_n: f64,
        kept_m: f64,
    ) -> f64 {
        let yield_n = self.yield_load_n + kept_m / self.hardening_compliance_m_n;
        // Closed: preload lost and hardening meet halfway. Open: only hardening helps.
        let closed_n = preload_n + joint.load_factor() * external_n - yield_n;
        let closed_m =
            closed_n / (1.0 / joint.compliance_m_n() + 1.0 / self.hardening_compliance_m_n);
        let open_m = (external_n - yield_n) * self.hardening_compliance_m_n;
        closed_m.max(open_m).max(0.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn any_joint() -> impl Strategy<Value = Joint> {
        (1e-9..8e-9_f64, 0.3e-9..3e-9_f64, 0.2..1.0_f64).prop_map(|(bolt, member, n)| Joint {
            bolt_compliance_m_n: bolt,
            member_compliance_m_n: member,
            load_introduction: n,
        })
    }

    const YIELDING: Yielding = Yielding {
        yield_load_n: 78e3,
        hardening_compliance_m_n: 5e-8,
    };

    proptest! {
        #![proptest_config(ProptestConfig { cases: 64, failure_persistence: None, ..ProptestConfig::default() })]

        /// Equilibrium: bolt load is clamp load plus external load; the bolt's load never falls with load and does not jump
        /// where the joint opens.
        #[test]
        fn the_joint_diagram(joint in any_joint(), preload in 0.0..80e3_f64, external in -20e3..120e3_f64) {
            let bolt = joint.bolt_load_n(preload, external);
            let clamp = joint.clamp_load_n(preload, external);
            prop_assert!(clamp >= 0.0);
            prop_assert!((bolt - clamp - external).abs() < 1e-6);
            prop_assert_eq!(clamp > 1e-6, external < joint.opening_load_n(preload) - 1e-5);
            prop_assert!(joint.bolt_load_n(preload, external + 1.0) >= bolt);
            let opens = joint.opening_load_n(preload);
            prop_assert!((joint.preload_to_stay_closed_n(opens) - preload).abs() < 1e-6);
            prop_assert!((joint.bolt_load_n(preload, opens) - opens).abs() < 1e-6);
        }

        /// After yielding the bolt bears the load without more; the same load again adds nothing, a higher one more.
        #[test]
        fn a_bolt_yields_once_for_each_load(joint in any_joint(), preload in 30e3..90e3_f64, external in 0.0..100e3_f64, kept in 0.0..1e-4_f64) {
            let added = YIELDING.added_stretch_m(&joint, preload, external, kept);
            let left = preload - joint.embedding_loss_n(added);
            let yield_n = YIELDING.yield_load_n + (kept + added) / YIELDING.hardening_compliance_m_n;
            prop_assert!(joint.bolt_load_n(left, external) <= yield_n + 1e-6);
            prop_assert!(YIELDING.added_stretch_m(&joint, left, external, kept + added) < 1e-15);
            prop_assert!(YIELDING.added_stretch_m(&joint, preload, external + 1e3, kept) >= added);
        }
    }

    /// Lever: the load at the bolt's line is borne as it is; half as far inside as the edge is outside, half as much again.
    #[test]
    fn prying_is_a_lever() {
        assert!((prying_factor(0.0, 8e-3) - 1.0).abs() < 1e-15);
        assert!((prying_factor(4e-3, 8e-3) - 1.5).abs() < 1e-15);
    }

    /// Warm members that expand more than the bolt tighten it, by the length over the compliance.
    #[test]
    fn heat_tightens_where_members_expand_more() {
        let joint = Joint {
            bolt_compliance_m_n: 4e-9,
            member_compliance_m_n: 1e-9,
            load_introduction: 1.0,
        };
        let change = joint.thermal_change_n(0.04, 2.3e-5, 1.2e-5, 80.0);
        assert!((change - 0.04 * 1.1e-5 * 80.0 / 5e-9).abs() < 1e-6);
    }
}
