//! Knock above the alarm level. Over when it is 20 % below.

use super::exceedance::{Exceedance, value};
use super::{Detector, Layout, Missing};

pub(super) fn detector(layout: &Layout<'_>) -> Result<Box<dyn Detector>, Missing> {
    let level = Some(layout.need("knock_level")?);
    let torque = layout.find("engine_torque_n_m");
    Ok(Box::new(Exceedance {
        kind: "knock_burst",
        sense: 1.0,
        level: Box::new(move |values| value(values, level)),
        limit: layout.thresholds.knock_level,
        margin: 0.2,
        armed: Box::new(|_| true),
        means: Box::new(move |values| [value(values, torque)]),
        open: None,
    }))
}
