//! Engine speed above the unit's limit. Over when it is 1 % below.

use super::exceedance::{Exceedance, value};
use super::{Detector, Layout, Missing};

pub(super) fn detector(layout: &Layout<'_>) -> Result<Box<dyn Detector>, Missing> {
    let speed = Some(layout.need("engine_speed_rad_s")?);
    let torque = layout.find("engine_torque_n_m");
    let limit = layout.thresholds.over_rev_engine_speed_rad_s;
    Ok(Box::new(Exceedance {
        kind: "over_rev",
        sense: 1.0,
        level: Box::new(move |values| value(values, speed)),
        limit: limit.ok_or(Missing::Threshold("over_rev_engine_speed_rad_s"))?,
        margin: 0.01,
        armed: Box::new(|_| true),
        means: Box::new(move |values| [value(values, speed), value(values, torque)]),
        open: None,
    }))
}
