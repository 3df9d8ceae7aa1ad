//! Constants, references, what is left out, cautions.

use ringland_plugin::{Basis, Constant, constant, lines};

use crate::constants as c;
use crate::materials::{ALLOYS, HEAD, STEMS};

pub(super) const DESCRIPTION: &str = "One valve guide. Side force and offset of the force on the valve's tip come from the motion of the valve train; equilibrium of moments \
gives the forces at both ends, which wear after Archard by the share that asperities carry through the oil a seal leaves. A stiff tilted stem \
makes the bell-mouth; clearance and wobble follow by geometry. The stem's temperature decides oil, hot clearance and galling of the pair.";

#[rustfmt::skip]
pub(super) fn constants() -> Vec<Constant> {
    use Basis::{Assumed, Calibrated, CommonPractice, Memory};
    let mut constants = vec![
        constant("bore_wear", "m2/N", c::BORE_WEAR_M2_N, Calibrated, "Default of the bore: 13 events of the default duty until the first limit of an exhaust guide (common practice, no source: 12 to 14)."),
        constant("metering_lip", "Pa/m", c::METERING_LIP_PA_M, Assumed, "Steepest pressure rise under the lip of a metering seal: some MPa over some tens of um."),
        constant("rich_lip", "Pa/m", c::RICH_LIP_PA_M, Assumed, "The same of a rich seal. Practice, without a source, has rich oil take off about 40 % of the wear; here it is a quarter, because the hot end loses it."),
        constant("oil_loss_from", "K", c::OIL_LOSS_K.0, Assumed, "Stem temperature from which oil is lost at the hot end."),
        constant("oil_dry_from", "K", c::OIL_LOSS_K.1, Assumed, "Stem temperature at which none is left. Practice counts double wear from 220 degC."),
        constant("bedded_share", "1", c::BEDDED_SHARE, Assumed, "Share of the guide's length that bears at each end; for galling only."),
        constant("gap_conductivity", "W/(m.K)", c::GAP_W_M_K, Memory, "Oil in the clearance."),
        constant("fit_conductance", "W/(m2.K)", c::FIT_W_M2_K, Assumed, "Press fit."),
        constant("gas_exponent", "1", c::GAS_EXPONENT, Memory, "Of speed in the heat transfer of port gas: cylinder in cross flow."),
        constant("boss_share", "1", c::BOSS_SHARE, Assumed, "Boss over coolant, over exhaust gas over coolant."),
        constant("pair_limit", "W/m2", c::PAIR_LIMIT_W_M2, Assumed, "Friction power over area that a pair of rank 1 bears at the reference temperature. Chosen with practice in view: the best pair hardly ever galls, bare titanium on iron often does."),
        constant("pair_reference", "K", c::PAIR_REFERENCE_K, Assumed, "Reference temperature."),
        constant("pair_critical", "K", c::PAIR_CRITICAL_K, Assumed, "Temperature at which a pair bears nothing."),
        constant("poor_rank", "1", c::POOR_RANK, CommonPractice, "Pairs below it are better avoided."),
        constant("wobble_lift", "m", c::WOBBLE_LIFT_M, CommonPractice, "Lift at which wobble is measured."),
        constant("guide_ln_sd", "1", c::GUIDE_LN_SD, Assumed, "Spread of ln(wear) between guides of one head; stays when the rate is known."),
        constant("head_modulus", "Pa", HEAD.modulus_pa, Memory, "Aluminium."),
        constant("head_expansion", "1/K", HEAD.expansion_per_k, Memory, "Aluminium."),
    ];
    for alloy in ALLOYS {
        let named = |what: &str| format!("{}_{what}", alloy.name);
        constants.push(constant(&named("expansion"), "1/K", alloy.solid.expansion_per_k, Memory, alloy.label));
        constants.push(constant(&named("conductivity"), "W/(m.K)", alloy.conductivity_w_m_k, Memory, alloy.label));
        for ((stem, label), rank) in STEMS.iter().zip(alloy.ranks) {
            let note = format!("Friction power that {} bears on {label}, over the best pair: common practice, no source, low confidence.", alloy.label);
            constants.push(constant(&named(&format!("on_{stem}")), "1", rank, CommonPractice, &note));
        }
    }
    constants
}

pub(super) fn references() -> Vec<String> {
    lines(&[
        "J. F. Archard, J. Appl. Phys. 24 (1953) 981: wear",
        "J. A. Greenwood and J. H. Tripp, Proc. Inst. Mech. Eng. 185 (1970-71) 625: asperity contact (from memory)",
        "H. Blok 1963: film that a reciprocating rod draws through a seal; 1937: critical contact temperature (both from memory)",
        "G. Lame: thick cylinders; statics of a beam with an overhanging load; fins (textbooks, from memory)",
        "ASTM G99, G133: bench tests of wear coefficients",
    ])
}

pub(super) fn leaves_out() -> Vec<String> {
    lines(&[
        "bending of the stem and of the guide; contact along the guide between its ends; the seat's grip near closing",
        "side force of the exhaust gas on the head, and of gas blowing past the stem; a seat that is out of line with the guide",
        "the bell-mouth moves the contact inward and raises the forces by up to 15 %: they are those of the guide as built",
        "lift of a converging film: the oil is taken to be too little to fill the gap",
        "running-in as its own state: edges bed in fast because they are edges, with one wear coefficient throughout",
        "carbon and coke on the stem but for the contamination factor; corrosion",
        "heat of friction; heat of an intake stem by backflow; load dependence of the port's heat transfer but for the gas temperature",
        "wear of the stem over the events to come: the valve's present wear stands",
        "turning of the guide's worn plane: a rocker always pulls in one plane",
        "an over-rev counts at its peak speed in addition to its time at the operating points",
    ])
}

pub(super) fn cautions() -> Vec<String> {
    lines(&[
        "Too tight sticks a valve, which meets the piston: the maker's minimum hot clearance rules whatever is computed here.",
        "Any visible score in the bore or on the stem ends the life of both.",
        "A worn guide wears the seat and bends the head: never fit a new valve into one.",
        "Dust of copper-beryllium is toxic: reaming and honing it is for licensed shops.",
        "The class's rules on materials and coatings come first.",
    ])
}
