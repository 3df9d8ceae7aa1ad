//! Oil gauge pressure below the limit while the engine turns fast. Over when it is 5 % above, or the
//! engine turns slower.

use super::exceedance::{Exceedance, value};
use super::{Detector, Layout, Missing};

pub(super) fn detector(layout: &Layout<'_>) -> Result<Box<dyn Detector>, Missing> {
    let pressure = Some(layout.need("oil_pressure_pa")?);
    let speed = Some(layout.need("engine_speed_rad_s")?);
    let above = layout.thresholds.oil_pressure_dip_above_engine_speed_rad_s;
    Ok(Box::new(Exceedance {
        kind: "oil_pressure_dip",
        sense: -1.0,
        level: Box::new(move |values| value(values, pressure)),
        limit: layout.thresholds.oil_pressure_dip_pa,
        margin: 0.05,
        armed: Box::new(move |values| value(values, speed) > above),
        means: Box::new(move |values| [value(values, speed)]),
        open: None,
    }))
}
