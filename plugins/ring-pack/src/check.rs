//! A spec against the card and against itself.

use ringland_plugin::{Finding, Specimen, check_against_card, unless_refused, warning};

use crate::card;
use crate::spec::Spec;

/// Everything wrong with a specimen.
pub fn check(specimen: &Specimen) -> Vec<Finding> {
    let mut findings = check_against_card(&card::card(), specimen);
    if !findings.is_empty() {
        return findings;
    }
    match Spec::read(specimen) {
        Ok(spec) => {
            findings.extend(spec.rings.check());
            if !band_limit_within_reach(&spec) {
                findings.push(warning(
                    "limit_contact_band_fraction",
                    spec.limit_contact_band_fraction,
                    "a band that the kept crown lets the face reach",
                    "lower the limit or check piston_tilt_rad: this face is never worn as flat as that",
                ));
            }
        }
        Err(wrong) => findings.extend(wrong),
    }
    findings
}

/// The spec, if nothing refuses it.
///
/// # Errors
/// The findings that refuse it.
pub fn accepted(specimen: &Specimen) -> Result<Spec, Vec<Finding>> {
    unless_refused(check(specimen), || Spec::read(specimen))
}

/// Whether wear can take the band of the top face to its limit.
pub fn band_limit_within_reach(spec: &Spec) -> bool {
    let (limit, pack) = (spec.limit_contact_band_fraction, &spec.rings.pack);
    pack.kept_crown_m(0) / pack.crown_m(0) < 1.0 - limit * limit
}
