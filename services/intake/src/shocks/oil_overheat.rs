//! Oil hotter than the limit. Over when it is 0.5 % (about 2 K) below.

use super::exceedance::{Exceedance, value};
use super::{Detector, Layout, Missing};

pub(super) fn detector(layout: &Layout<'_>) -> Result<Box<dyn Detector>, Missing> {
    let temp = Some(layout.need("oil_temp_k")?);
    Ok(Box::new(Exceedance {
        kind: "oil_overheat",
        sense: 1.0,
        level: Box::new(move |values| value(values, temp)),
        limit: layout.thresholds.oil_overheat_temp_k,
        margin: 0.005,
        armed: Box::new(|_| true),
        means: Box::new(|_| []),
        open: None,
    }))
}
