//! What guides and stems are made of: properties from memory, and which pairs bear sliding (common practice, no source; low confidence).

use ringland_mechanics::guide::Solid;

/// Properties of a guide alloy.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Alloy {
    /// Name of the option.
    pub name: &'static str,
    /// Label of the option.
    pub label: &'static str,
    /// Elasticity and expansion, from memory.
    pub solid: Solid,
    /// Conductivity \[W/(m·K)\], from memory.
    pub conductivity_w_m_k: f64,
    /// Rank with each of [`STEMS`]: friction power that the pair bears over that of the best. The five that practice names are aluminium
    /// bronze on nitrided steel 1, manganese bronze on bare steel 0.9, copper-beryllium on titanium 0.9, sintered iron on chromed 0.8,
    /// iron on bare titanium 0.2; the others are assumed between them.
    pub ranks: [f64; 5],
}

/// Guide alloys, in the order of the choice.
#[rustfmt::skip]
pub const ALLOYS: [Alloy; 5] = [
    alloy("aluminium_bronze", "nickel-aluminium bronze", (115.0e9, 0.33, 16.3e-6), 42.0, [1.0, 0.85, 0.95, 0.35, 0.8]),
    alloy("manganese_bronze", "manganese bronze", (105.0e9, 0.34, 20.0e-6), 90.0, [0.95, 0.9, 0.9, 0.35, 0.75]),
    alloy("copper_beryllium", "copper-beryllium", (130.0e9, 0.30, 17.5e-6), 110.0, [1.0, 0.9, 0.95, 0.9, 1.0]),
    alloy("sintered_iron", "sintered iron", (110.0e9, 0.27, 11.5e-6), 30.0, [0.8, 0.6, 0.8, 0.25, 0.6]),
    alloy("cast_iron", "cast iron", (115.0e9, 0.26, 11.0e-6), 48.0, [0.75, 0.55, 0.75, 0.2, 0.55]),
];

/// Stem surfaces, in the order of the choice: name, label.
pub const STEMS: [(&str, &str); 5] = [
    ("nitrided_steel", "nitrided steel"),
    ("bare_steel", "bare steel"),
    ("chromed", "chromed"),
    ("bare_titanium", "bare titanium"),
    ("coated_titanium", "titanium, nitrided or coated"),
];

/// Aluminium of the head, from memory.
pub const HEAD: Solid = Solid {
    modulus_pa: 70.0e9,
    poisson: 0.33,
    expansion_per_k: 21.0e-6,
};

const fn alloy(
    name: &'static str,
    label: &'static str,
    (modulus_pa, poisson, expansion_per_k): (f64, f64, f64),
    conductivity_w_m_k: f64,
    ranks: [f64; 5],
) -> Alloy {
    Alloy {
        name,
        label,
        solid: Solid {
            modulus_pa,
            poisson,
            expansion_per_k,
        },
        conductivity_w_m_k,
        ranks,
    }
}
